"""Sentences made from others: either order, and limits that keep the grammar small."""

from __future__ import annotations

import pytest

from assistant.grammar import corrections
from assistant.grammar.readings import NO_WATER_SEEN
from assistant.messages import Correction, Report, Several

HALF = Report("water", 0.5, "glass")


def test_each_frame_goes_around_each_report() -> None:
    made = dict(corrections.corrections([(("half",), HALF)]))
    assert made[("i", "said", "half")] == Correction(HALF)
    assert len(made) == len(corrections.CORRECTION_FRAMES)


@pytest.mark.parametrize("unit", ["psi", "bar", "kPa"])
def test_pressure_and_water_are_taken_in_either_order(unit: str) -> None:
    made = dict(corrections.pressure_and_water(unit))
    five = Report("pressure", 5.0, unit) if unit != "kPa" else Report("pressure", 50.0, unit)
    digits = ("five",) if unit != "kPa" else ("five", "zero")
    assert made[("pressure", *digits, "water", "half")] == Several((five, HALF))
    assert made[("water", "half", "pressure", *digits)] == Several((HALF, five))
    assert made[("pressure", *digits, "no", "water", "in", "sight")] == Several(
        (five, NO_WATER_SEEN)
    )


def test_states_that_go_together_are_taken_in_either_order() -> None:
    made = dict(corrections.state_pairs())
    feed, damper = Report("feed", "off"), Report("damper", "shut")
    assert made[("finished", "feeding", "damper", "shut")] == Several((feed, damper))
    assert made[("damper", "shut", "finished", "feeding")] == Several((damper, feed))
