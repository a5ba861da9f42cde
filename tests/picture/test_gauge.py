"""Whether the pressure gauge is believed."""

from __future__ import annotations

import pytest
from picture_story import PRACTICE, picture, psi

from assistant.boiler.scales import PSI_PA
from assistant.messages import Report

LIFTS = Report("valve", "lifting")


def test_never_called_is_not_believed() -> None:
    gauge = picture((0, Report("fire", "lit"))).gauge
    assert (gauge.value, gauge.pressure_pa, gauge.age_s) == ("doubted", None, None)


def test_the_last_reading_its_age_and_the_one_before() -> None:
    gauge = picture((0, psi(40)), (5, psi(60)), minute=7).gauge
    assert gauge.value == "believed"
    assert (gauge.pressure_pa, gauge.before_pa) == (60 * PSI_PA, 40 * PSI_PA)
    assert gauge.age_s == 120.0
    assert gauge.witnesses == ("gauge 60 psi, 2 min ago",)
    assert picture((0, Report("pressure", "on the pin"))).gauge.pressure_pa == 0.0


def test_a_needle_on_its_pin_has_not_moved() -> None:
    assert not picture((0, psi(1))).proves("gauge moves")
    assert picture((0, psi(2))).proves("gauge moves")


@pytest.mark.parametrize("grade", ["danger", "warning"])
def test_a_conflict_is_taken_from_the_belief(grade: str) -> None:
    gauge = picture((0, psi(30)), (1, LIFTS), conflict=grade).gauge
    assert gauge.value == "in conflict"
    assert "the valve contradicts it" in gauge.witnesses


def test_a_valve_that_moves_over_an_older_low_reading_doubts_it() -> None:
    gauge = picture((0, psi(90)), (3, LIFTS), minute=4).gauge
    assert (gauge.value, gauge.witnesses[1]) == ("doubted", "valve lifting, 1 min ago")
    assert picture((0, psi(130)), (3, LIFTS)).gauge.value == "believed"
    assert picture((0, psi(90)), (3, LIFTS), (3, psi(132))).gauge.value == "believed"


def test_a_gauge_at_rest_well_after_steam_was_seen_is_doubted() -> None:
    steam = (1, Report("vent", "blows steam"))
    assert picture(steam, (2, psi(0))).gauge.value == "believed"
    assert picture(steam, (5, psi(0))).gauge.value == "doubted"
    assert picture(steam, (5, psi(5))).gauge.value == "believed"


def test_with_steam_up_a_reading_is_wanted_every_second_interval() -> None:
    assert PRACTICE.water_interval_s == 300.0
    assert not picture((0, psi(60)), minute=10).gauge.old
    assert picture((0, psi(60)), minute=10.1).gauge.old
    assert not picture((0, psi(0)), minute=60).gauge.old
