"""Simulated steam-ups: reproducible, plausible, and only what a fireman can see is called."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.simulator.steam_up import SteamUp, draw_habits, invented_engine, steam_up

PACE = (1.0, 1.3, 2.0)


@pytest.fixture(scope="module", params=[0, 1])
def run(request: pytest.FixtureRequest) -> SteamUp:
    seed = request.param
    return steam_up(invented_engine(seed), seed, seed, draw_habits(seed, PACE[seed % 3]))


def test_it_reaches_working_pressure_and_stops_soon_after(run: SteamUp) -> None:
    assert run.reached_s is not None
    assert run.time_s[-1] - run.reached_s <= 130.0
    assert len(run.time_s) == len(run.gauge_pa) == len(run.height)


def test_readings_come_in_order_and_begin_with_the_water(run: SteamUp) -> None:
    times = [at for at, _ in run.rows]
    assert times == sorted(times)
    assert run.rows[0][1].what == "water"
    assert next(r.value for _, r in run.rows if r.what == "fire") == "lit"


def test_most_pressures_called_are_near_the_truth(run: SteamUp) -> None:
    errors = [
        abs(float(report.value) - float(np.interp(at, run.time_s, run.gauge_pa)) / 6894.757)
        for at, report in run.rows
        if report.what == "pressure"
    ]
    assert len(errors) >= 3
    assert float(np.median(errors)) < 4.0


def test_the_same_seeds_give_the_same_day() -> None:
    engine, habits = invented_engine(0), draw_habits(0, 1.0)
    first, again, other = (steam_up(engine, 0, day, habits, 1800.0).rows for day in (5, 5, 6))
    assert first == again != other


def test_engines_go_by_turns_through_three_sizes() -> None:
    volumes = [invented_engine(seed).volume_m3 for seed in range(6)]
    assert max(volumes[0], volumes[3]) < min(volumes[1], volumes[4])
    assert max(volumes[1], volumes[4]) < min(volumes[2], volumes[5])
    assert "copper" in invented_engine(0).metal_kg and "steel" in invented_engine(2).metal_kg
