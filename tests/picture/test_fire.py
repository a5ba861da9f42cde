"""The fire by report, and by a pressure that rises without one."""

from __future__ import annotations

import pytest
from picture_story import picture, psi

from assistant.messages import Report


@pytest.mark.parametrize(
    ("told", "state", "burning"),
    [
        ("laid", "laid", False),
        ("lit", "lit", True),
        ("built", "lit", True),
        ("bright", "coal", True),
        ("banked", "banked", True),
        ("burning alone", "banked", True),
        ("run down", "drawn", False),
        ("dead", "drawn", False),
    ],
)
def test_each_report_of_the_fire_has_its_state(told: str, state: str, burning: bool) -> None:
    fire = picture((1, Report("fire", told)), minute=3).fire
    assert (fire.value, fire.burning, fire.heat) == (state, burning, burning)
    assert fire.age_s == 120.0
    assert fire.since == 60.0


def test_never_told_of_there_is_none_in_a_cold_boiler() -> None:
    fire = picture((0, psi(0))).fire
    assert (fire.value, fire.burning, fire.age_s) == ("none", False, None)


def test_a_pressure_that_rises_without_a_fire_told_of_means_one() -> None:
    fire = picture((10, psi(0)), (14, psi(2))).fire
    assert fire.value == "none", "less than two calling steps"
    fire = picture((10, psi(0)), (14, psi(15))).fire
    assert (fire.value, fire.burning, fire.heat) == ("unknown", True, True)
    assert "gauge 15 psi, now" in fire.witnesses


def test_steam_without_a_fire_told_of_means_one() -> None:
    fire = picture((10, Report("valve", "lifting"))).fire
    assert (fire.value, fire.burning) == ("unknown", True)


def test_a_state_keeps_its_beginning_when_it_is_told_again() -> None:
    fire = picture((5, Report("fire", "coal")), (25, Report("fire", "coal"))).fire
    assert (fire.since, fire.age_s) == (300.0, 0.0)


def test_after_drawn_a_rise_is_heat_of_the_metal_for_ten_minutes() -> None:
    drawn = ((0, psi(60)), (1, Report("fire", "drawn")), (2, psi(60)))
    soon = picture(*drawn, (9, psi(75))).fire
    assert (soon.value, soon.asks_fire, soon.heat) == ("drawn", False, True)
    late = picture(*drawn, (13, psi(75))).fire
    assert (late.value, late.asks_fire) == ("drawn", True)
    told = picture(*drawn, (13, psi(75)), (14, Report("fire", "drawn"))).fire
    assert not told.asks_fire, "an answer ends the question"


def test_a_fire_told_of_before_a_long_break_is_unknown_and_still_heat() -> None:
    lit = (1, Report("fire", "lit"))
    short = picture(lit, minute=20, breaks=((300.0, 1100.0),)).fire
    assert short.value == "lit"
    fire = picture(lit, minute=30, breaks=((300.0, 1500.0),)).fire
    assert (fire.value, fire.burning, fire.heat) == ("unknown", True, True)
    assert fire.age_s == 29 * 60.0
