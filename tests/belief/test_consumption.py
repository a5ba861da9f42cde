"""Water and fuel used: by the tank, by the belief, and what nothing shows."""

from __future__ import annotations

import pytest
from boiler_engines import RAISING, STEEL, belief_after

from assistant.belief import consumption
from assistant.messages import Report

AT_WORK = (
    *RAISING,
    (3700.0, Report("pressure", 75, "psi")),
    (4000.0, Report("pressure", 105, "psi")),
    (4200.0, Report("pressure", 120, "psi")),
)


def test_used_so_far() -> None:
    rows = (
        (0.0, Report("tank", 1.0, "tank")),
        *AT_WORK,
        (4200.0, Report("feed", "on")),
        (4800.0, Report("feed", "off")),
        (4800.0, Report("tank", 0.7, "tank")),
    )
    used = consumption.used(belief_after(rows))
    assert used.fed_kg == pytest.approx(13.5, rel=0.1)
    # heat to 120 psi of 80 kg water and 420 kg steel is some 93 MJ; a quarter to a half of 30 MJ/kg
    assert 6.0 < used.fuel_kg < 13.0
    assert used.tank_minutes > 0.0


def test_before_the_lighting_no_fuel_is_used() -> None:
    assert consumption.used(belief_after(RAISING[:1])).fuel_kg is None


def test_one_reading_of_the_tank_shows_no_feed() -> None:
    rows = ((0.0, Report("tank", 1.0, "tank")), *RAISING)
    used = consumption.used(belief_after(rows))
    assert (used.fed_kg, used.tank_minutes) == (0.0, None)


def test_while_the_feed_is_on_the_tank_lasts_as_long_as_the_pump_takes() -> None:
    rows = (*AT_WORK, (4200.0, Report("feed", "on")), (4210.0, Report("tank", 0.5, "tank")))
    # 45 litres, half full, 1.6 litre a minute
    assert consumption.used(belief_after(rows)).tank_minutes == pytest.approx(22.5 / 1.6)
    assert STEEL.tank_m3 == 0.045
