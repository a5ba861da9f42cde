"""Levels beside each other: a rise that no heat explains, and what ends the comparing."""

from __future__ import annotations

import pytest
from picture_story import glass, picture, psi  # type: ignore[import-not-found]

from assistant.messages import Report

HOT = (
    (0.0, Report("fire", "bright")),
    (0.1, psi(70)),
    (0.2, Report("glass", "comes back at once")),
)
CLIMBS = (
    (1.0, glass(0.5)), (3.0, glass(0.5)), (4.0, psi(70)), (5.0, glass(0.75)), (6.0, glass(0.875)),
)  # fmt: skip
PROVED = Report("glass", "comes back at once")


def test_by_two_looks_it_is_unproved() -> None:
    seen = picture(*HOT, *CLIMBS)
    assert (seen.glass.value, seen.water.value, seen.glass.since) == ("unproved", "unproved", 300.0)
    assert seen.glass.risen and not picture(*HOT, *CLIMBS[:-1]).glass.risen


def test_proved_it_reads_again_from_then_on() -> None:
    day = (*HOT, *CLIMBS, (7.0, PROVED))
    assert picture(*day).water.value == "unproved", "what was called before is no level"
    seen = picture(*day, (8.0, glass(0.375)))
    assert (seen.water.value, seen.glass.risen, seen.loss) == ("known", "", None)


@pytest.mark.parametrize(
    "told",
    [
        (Report("feed", "on"), Report("feed", "off")),
        (Report("hand pump", "works"),),
        (Report("regulator", "open"),),
        (Report("valve", "lifting"),),
        (Report("cure", "priming"),),
    ],
)
def test_what_feeds_or_swells_it_explains_a_rise(told: tuple[Report, ...]) -> None:
    between = tuple((3.5 + 0.1 * i, report) for i, report in enumerate(told))
    seen = picture(*HOT, *CLIMBS[:2], *between, *CLIMBS[2:])
    assert not seen.glass.risen


def test_heat_lifts_it_from_cold_to_the_lift_at_most_where_the_gauge_tells_nothing() -> None:
    lit = (0.0, Report("fire", "lit"))
    levels = tuple((5.0 * i, glass(0.5 + 0.05 * i)) for i in range(1, 6))
    assert not picture(lit, *levels).glass.risen
    assert not picture(lit, (0.1, psi(0)), *levels).glass.risen


def test_a_fall_while_it_is_in_doubt_is_no_loss() -> None:
    seen = picture(*HOT, *CLIMBS, (7.0, psi(70)), (8.0, glass(0.25)), (9.0, glass(0.25)))
    assert seen.loss is None
