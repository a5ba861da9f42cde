"""A steady run of readings is accepted, however wrong the engine file; one outlier is not."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import pytest
from boiler_engines import COPPER, FULL, PSI, STEEL, Rows, belief_after
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.belief import estimate, forecast
from assistant.belief.history import Pressure
from assistant.belief.learning import history_of
from assistant.belief.prior import typical_rate_w
from assistant.belief.temperature_grid import COLD_K, grid_of
from assistant.belief.temperature_track import REST_K, ScreenedPressures, screened_pressures
from assistant.boiler.figures import Engine
from assistant.boiler.vessel import (
    Contents,
    boiling_k,
    energy_j,
    gauge_pa,
    temperature_k,
    vessel_of,
)
from assistant.messages import Report


def called(pounds: Iterable[tuple[float, float]]) -> list[tuple[float, Report]]:
    return [(at_s, Report("pressure", value, "psi")) for at_s, value in pounds]


Story = tuple[Engine, list[tuple[float, Report]]]
LIT = (0.0, Report("fire", "lit"))
# 120 psi in 41 minutes, and 6 psi three minutes after lighting: quicker than the file's fire.
QUICK = [(60.0 + 120.0 * i, 6.0 * i) for i in range(21)]


def screened(*pounds: tuple[float, float], reports: Rows = ()) -> ScreenedPressures:
    rows = sorted([LIT, *called(pounds), *reports], key=lambda row: row[0])
    history = history_of(STEEL, rows)
    return screened_pressures(STEEL, history, grid_of(STEEL, 80.0))


def values(pressures: tuple[Pressure, ...]) -> list[int]:
    return [round(p.gauge_pa / PSI) for p in pressures]


RISING = ((2460, 5), (2760, 15), (3120, 30), (3420, 45))


@pytest.mark.parametrize("pounds", [5, 140])
def test_a_step_that_nothing_explains_waits_for_a_second_reading(pounds: float) -> None:
    one = screened(*RISING, (3540, pounds))
    assert values(one.doubted) == [pounds]
    two = screened(*RISING, (3540, pounds), (3660, pounds))
    assert values(two.accepted)[-2:] == [pounds, pounds]
    assert values(two.jumps) == [pounds]
    assert two.doubted == ()


def test_a_fall_that_a_report_explains_is_accepted_at_once() -> None:
    fed = screened(*RISING, (3540, 20), reports=[(3450, Report("feed", "on"))])
    assert fed.doubted == ()
    assert values(fed.accepted)[-1] == 20


def test_a_spike_is_left_out_afterwards() -> None:
    spike = screened(*RISING, (3540, 60), (3600, 50))
    assert values(spike.doubted) == [60]
    assert values(spike.accepted)[-1] == 50


def test_the_track_follows_the_last_slope_for_a_quarter_of_an_hour() -> None:
    track = belief_after([LIT, *called(RISING)]).track
    last_s = RISING[-1][0]
    assert track.at(last_s) == pytest.approx(boiling_k(45 * PSI, STEEL.atmosphere_pa))
    assert track.at(last_s) < track.at(last_s + 300.0) < track.at(last_s + 900.0)
    assert track.at(last_s + 900.0) == track.at(last_s + 5000.0)
    times = [0.0, 3000.0, last_s + 300.0]
    assert track.along(np.array(times)) == pytest.approx([track.at(t) for t in times])


def test_with_nothing_called_the_water_warms_and_does_not_boil() -> None:
    track = belief_after([LIT]).track
    assert COLD_K == track.at(0.0) < track.at(900.0) <= REST_K


@pytest.mark.parametrize("upto", range(4, 22))
def test_readings_faster_than_the_files_fire_are_believed(upto: int) -> None:
    belief = belief_after([LIT, *called(QUICK[:upto])], STEEL)
    assert forecast.pressure(belief).mid == pytest.approx(QUICK[upto - 1][1] * PSI, abs=3.0 * PSI)


def test_time_to_pressure_goes_by_those_readings() -> None:
    belief = belief_after([LIT, *called(QUICK[:11])], STEEL)
    minutes = forecast.minutes_to(belief, 120.0 * PSI).band
    # six pounds in two minutes all along; in temperature a little faster above than below
    assert 10.0 < minutes.mid < 25.0


@st.composite
def steady(draw: st.DrawFn) -> Story:
    """Readings at one heat rate, rounded, from a boiler lit cold or taken over warm."""
    engine = draw(st.sampled_from([COPPER, STEEL, FULL]))
    vessel, kg = vessel_of(engine), estimate.begin(engine, 0.0).filled_kg
    typical = typical_rate_w(engine, estimate.begin(engine, 0.0).grid)
    watts = typical * draw(st.floats(0.2, 5.0))
    top = 1.1 * engine.working_pressure_gauge_pa
    first = draw(st.floats(0.0, 0.8)) * top
    step = draw(st.sampled_from([1.0, 2.0, 5.0]))
    lit = draw(st.sampled_from(["cold", "late", "never"]))
    hot = boiling_k(first, engine.atmosphere_pa)
    warm = energy_j(vessel, Contents(kg, hot))
    cold = energy_j(vessel, Contents(kg, COLD_K))
    begun_s = {"cold": (warm - cold) / watts, "late": 60.0, "never": 0.0}[lit]
    full_s = (energy_j(vessel, Contents(kg, boiling_k(top, engine.atmosphere_pa))) - warm) / watts
    every_s = max(draw(st.floats(60.0, 600.0)), full_s / 40.0)
    rows = [] if lit == "never" else [LIT]
    for i in range(draw(st.integers(3, 41))):
        heat = watts * every_s * i
        now = temperature_k(vessel, kg, warm + heat, hot)
        shown = gauge_pa(now, engine.atmosphere_pa)
        if shown > top:
            break
        value = round(max(shown, 0.0) / PSI / step) * step
        rows.append((begun_s + every_s * i, Report("pressure", value, "psi")))
    return engine, rows


@settings(max_examples=100, deadline=None)
@given(steady())
def test_any_steady_run_is_believed(story: Story) -> None:
    engine, rows = story
    pounds = [r.value for _, r in rows if r.what == "pressure"]
    if len(pounds) < 3:
        return
    belief = belief_after(rows, engine)
    off = abs(forecast.pressure(belief).mid / PSI - pounds[-1])
    assert off <= max(10.0, 0.1 * pounds[-1])


@settings(max_examples=50, deadline=None)
@given(steady(), st.data())
def test_one_outlier_in_a_steady_run_is_not_believed(story: Story, data: st.DataObject) -> None:
    engine, rows = story
    readings = [i for i, (_, r) in enumerate(rows) if r.what == "pressure"]
    if len(readings) < 7:
        return  # three before it and three after: fewer, and nobody could tell which is the outlier
    at = readings[data.draw(st.integers(3, len(readings) - 4))]
    true = rows[readings[-1]][1].value
    at_s, before = rows[at][0], rows[at][1].value
    away = data.draw(st.sampled_from([-60.0, -40.0, 40.0, 60.0]))
    outlier = min(max(before + away, 0.0), engine.dial_top_gauge_pa / PSI)
    rows = [*rows[:at], (at_s, Report("pressure", outlier, "psi")), *rows[at + 1 :]]
    belief = belief_after(rows, engine)
    assert abs(forecast.pressure(belief).mid / PSI - true) <= max(10.0, 0.1 * true)
