"""An engine that stands nose up or nose down: the belief knows, the glass shows what it shows."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from boiler_engines import PSI, STEEL, belief_after

from assistant.belief import forecast, water_forecast
from assistant.belief.estimate import mass_kg
from assistant.boiler import glass
from assistant.boiler.figures import Engine
from assistant.messages import Report

NOSE_UP = replace(STEEL, nose_up_rad=math.radians(2.0))
NOSE_DOWN = replace(STEEL, nose_up_rad=math.radians(-2.0))
ROWS = (
    (0.0, Report("water", 0.5, "glass")),
    (300.0, Report("fire", "lit")),
    (2460.0, Report("pressure", 60, "psi")),
    (2460.0, Report("water", 0.6, "glass")),
)


@pytest.mark.parametrize("engine", [NOSE_UP, NOSE_DOWN, STEEL])
def test_what_the_glass_shows_comes_back(engine: Engine) -> None:
    for hot_k in (290.0, 430.0):
        for height in (0.3, 0.5, 0.7):
            kg = glass.water_shown_kg(engine, height, hot_k)
            assert glass.shown_for(engine, kg, hot_k) == pytest.approx(height, abs=1e-3)


def test_nose_up_there_is_less_water_than_the_glass_shows() -> None:
    up, level, down = (mass_kg(belief_after(ROWS, e)) for e in (NOSE_UP, STEEL, NOSE_DOWN))
    # geometry: 0.45 m to the glass at 2 degrees is 15.7 mm, of 160 mm of glass holding 28 litre
    moved_kg = 0.45 * math.tan(math.radians(2.0)) / 0.16 * 28.0
    assert level - up == pytest.approx(moved_kg, rel=0.15)
    assert down - level == pytest.approx(moved_kg, rel=0.15)


def test_the_glass_is_as_it_was_read_and_pressure_hardly_moves() -> None:
    up, level = belief_after(ROWS, NOSE_UP), belief_after(ROWS, STEEL)
    assert water_forecast.water(up).mid == pytest.approx(water_forecast.water(level).mid, abs=0.01)
    now = forecast.pressure(up).mid, forecast.pressure(level).mid
    assert now[0] == pytest.approx(now[1], abs=0.5 * PSI)
