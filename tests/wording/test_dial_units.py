"""Figures in pounds become figures of the dial; everything else stays."""

from __future__ import annotations

import pytest

from assistant.wording.dial_units import in_dial, listed


@pytest.mark.parametrize(
    ("text", "dial", "said"),
    [
        ("73 pounds now, 116 pounds wanted; 24 kW", "bar", "5 bar now, 8 bar wanted; 24 kW"),
        ("73 psi, now 60 psi while raising steam", "bar", "5 bar, now 4.1 bar while raising steam"),
        ("below 15 or 20 psi", "bar", "below 1 or 1.4 bar"),
        ("1 pound a minute", "kPa", "7 kPa a minute"),
        ("glass up 12 hundredths", "bar", "glass up 12 hundredths"),
        ("a poundage of 7", "bar", "a poundage of 7"),
        ("73 psi now", "psi", "73 psi now"),
    ],
)
def test_pressures_are_those_of_the_dial(text: str, dial: str, said: str) -> None:
    assert in_dial(text, dial) == said


def test_a_list_speaks_in_words_in_the_unit_of_the_dial() -> None:
    assert listed("Wait for 10 psi.", "bar") == "Wait for zero point seven bar."
    assert listed("Wait for 10 psi.", "psi") == "Wait for ten pounds."


def test_a_text_without_a_pressure_is_left_alone() -> None:
    assert listed("Two of 12 bolts.", "bar") == "Two of 12 bolts."
