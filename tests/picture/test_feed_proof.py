"""What two levels say of a feed: yes, no, or not yet."""

from __future__ import annotations

import pytest

from assistant.picture.feed_proof import Window, judge, stands_still, tells_after_s

PER_S = 0.001  # of the glass: a step of 0.125 after 125 s


def window(
    moved: float,
    running_s: float,
    expansion: float | None = 0.0,
    used: float = 0.0,
    per_s: float | None = PER_S,
) -> Window:
    return Window(moved, running_s, expansion, used, 0.125, per_s)


@pytest.mark.parametrize(
    ("seen", "proof"),
    [
        (window(0.1, 120), "not yet"),
        (window(0.0, 120), "not yet"),
        (window(0.07, 125), "yes"),
        (window(0.06, 125), "no"),
        (window(0.0, 125), "no"),
        (window(-0.1, 125), "no"),
        (window(0.2, 250, expansion=0.1), "no"),
        (window(0.25, 250, expansion=0.1), "yes"),
        (window(0.25, 250, expansion=None), "not yet"),
        (window(0.06, 250, used=0.13), "not yet"),
        (window(0.06, 250, expansion=-0.07), "yes"),
        (window(0.06, 150, expansion=-0.07), "yes"),
    ],
)
def test_where_the_delivery_is_known(seen: Window, proof: str) -> None:
    assert judge(seen) == proof


@pytest.mark.parametrize(
    ("moved", "running_s", "expansion", "proof"),
    [
        (0.125, 60, 0.0, "yes"),
        (0.1, 60, 0.0, "not yet"),
        (0.125, 60, 0.05, "not yet"),
        (0.0, 200, 0.0, "not yet"),
        (0.0, 240, 0.0, "no"),
        (0.1, 240, 0.1, "no"),
        (0.125, 240, None, "not yet"),
    ],
)
def test_where_it_is_not(
    moved: float, running_s: float, expansion: float | None, proof: str
) -> None:
    assert judge(window(moved, running_s, expansion, per_s=None)) == proof


def test_when_to_look_again() -> None:
    assert tells_after_s(0.125, PER_S) == pytest.approx(125.0)
    assert tells_after_s(0.125, None) == 240.0
    assert not stands_still(window(0.01, 900))
