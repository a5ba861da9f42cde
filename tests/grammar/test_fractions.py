"""Fractions of a glass in words: tables both ways, and words that are refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.grammar import fractions

MEANS = {
    "half": 1 / 2, "one half": 1 / 2, "a third": 1 / 3, "one third": 1 / 3, "two thirds": 2 / 3,
    "a quarter": 1 / 4, "three quarters": 3 / 4, "one eighth": 1 / 8, "three eighths": 3 / 8,
    "five eighths": 5 / 8, "seven eighths": 7 / 8, "full": 1, "nearly full": 0.95,
    "just under half": 0.45, "just over half": 0.55, "just over two thirds": 2 / 3 + 0.05,
    "just under a quarter": 0.2, "about half": 0.5, "about three quarters": 0.75,
    "six tenths": 0.6, "one tenth": 0.1, "point six": 0.6, "zero point six": 0.6,
    "sixty percent": 0.6, "six five percent": 0.65, "a hundred percent": 1.0,
}  # fmt: skip
REFUSED = (
    "a half", "three fifths", "two quarters", "four quarters", "nothing", "two halves", "eighth",
    "five thirds", "just under", "just under full half", "sixty one percent", "half half", "empty",
)  # fmt: skip


@pytest.mark.parametrize(("text", "value"), MEANS.items())
def test_fractions_have_one_value(text: str, value: float) -> None:
    assert fractions.forms()[tuple(text.split())] == pytest.approx(value, abs=5e-4)


@pytest.mark.parametrize("text", REFUSED)
def test_other_words_are_no_fraction(text: str) -> None:
    assert tuple(text.split()) not in fractions.forms()


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (0.0, "nothing"), (0.06, "just showing"), (0.5, "half"), (0.52, "half"),
        (0.44, "just under half"), (0.63, "five eighths"), (0.75, "three quarters"),
        (0.95, "nearly full"), (1.0, "full"), (1.3, "full"), (-0.1, "nothing"),
    ],
)  # fmt: skip
def test_a_height_is_said_by_the_nearest_name(value: float, said: str) -> None:
    assert fractions.fraction_words(value) == said


@given(st.floats(0, 1))
def test_what_we_say_is_never_far_from_the_height(value: float) -> None:
    said = fractions.fraction_words(value)
    named = {"nothing": 0.0, "just showing": 0.05}
    meant = named.get(said, fractions.forms().get(tuple(said.split())))
    assert meant is not None, said
    assert abs(meant - value) <= 0.04  # the widest gap between two names is 0.075
