"""The water believed: by the glass, on a slope, tight or losing."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
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


def test_with_no_glass_the_water_is_the_cold_fill_and_not_well_known() -> None:
    blind, seen = belief_after(ROWS[1:3]).water, belief_after(ROWS).water
    filled_kg = belief_after(ROWS[1:3]).filled_kg
    assert blind.mass(2460.0)[0] == pytest.approx(filled_kg)
    assert blind.mass(2460.0)[1] > 2.0 * seen.mass(2460.0)[1]


def test_a_glass_before_the_lighting_counts_only_as_the_last_one() -> None:
    filling = ((-600.0, Report("water", 0.1, "glass")), (-300.0, Report("water", 0.3, "glass")))
    assert belief_after((*filling, *ROWS)).water.levels == belief_after(ROWS).water.levels


def test_middles_of_many_times_are_those_of_each() -> None:
    water = belief_after(ROWS).water
    times = (0.0, 1000.0, 2460.0, 4000.0)
    assert water.masses(np.array(times)) == pytest.approx([water.middle_kg(t) for t in times])
    assert [water.mass(t)[0] for t in times] == pytest.approx([water.middle_kg(t) for t in times])


def test_the_likelier_case_is_one_explanation() -> None:
    falling = [(2460.0 + 600.0 * i, Report("water", 0.6 - 0.1 * i, "glass")) for i in range(1, 5)]
    steady = belief_after(ROWS).water
    leaking = belief_after([*ROWS, *falling]).water
    assert steady.losing < 0.5 < leaking.losing
    assert steady.likelier.losing == 0.0
    assert leaking.likelier.losing == 1.0


def test_a_level_just_after_steam_is_taken_may_be_swell() -> None:
    water = belief_after([*ROWS, (3000.0, Report("regulator", "open"))]).water
    assert [water.swells(at_s) for at_s in (2990.0, 3060.0, 3300.0)] == [False, True, False]
