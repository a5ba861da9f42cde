"""The prior of an engine, and of one run of it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from boiler_engines import COPPER, FULL, STEEL

from assistant.belief.prior import (
    SPREADS,
    first_shared,
    run_covariance,
    run_mean,
    typical_rate_w,
    typical_rise_s,
)
from assistant.belief.temperature_grid import CELLS, TemperatureGrid, grid_of
from assistant.boiler.figures import Engine


def cold(engine: Engine, kg: float) -> TemperatureGrid:
    return grid_of(engine, kg)


@pytest.mark.parametrize(
    ("engine", "kg", "least_min", "most_min"),
    # common practice, no source: a small copper boiler 20-45 min, full size 2.5-5 h
    [(COPPER, 9.75, 20.0, 60.0), (FULL, 620.0, 120.0, 330.0)],
)
def test_an_engine_without_a_rate_takes_what_its_kind_takes(
    engine: Engine, kg: float, least_min: float, most_min: float
) -> None:
    grid = cold(engine, kg)
    watts = typical_rate_w(replace(engine, fire_rate_w=None), grid)
    assert least_min < float(grid.heat_j.sum()) / watts / 60.0 < most_min


def test_a_hotter_fire_in_the_file_is_followed_less_than_in_proportion() -> None:
    grid = cold(STEEL, 80.0)
    once, twice = (typical_rate_w(replace(STEEL, fire_rate_w=w), grid) for w in (28e3, 56e3))
    assert 1.5 < twice / once < 2.0


def test_the_first_prior_is_a_covariance_and_the_blower_quickens() -> None:
    shared = first_shared(STEEL, cold(STEEL, 80.0))
    assert np.linalg.eigvalsh(shared.covariance).min() > 0.0
    shut, blown = (shared.run_prior(np.full(CELLS, draught))[0] for draught in (0.0, 1.0))
    assert blown[0] == shut[0]  # the delay is before any blower
    assert (blown[1:] < shut[1:]).all()


@pytest.mark.parametrize("spread", SPREADS)
def test_the_mean_time_of_a_run_is_the_typical_one(spread: object) -> None:
    grid = cold(STEEL, 80.0)
    typical = first_shared(STEEL, grid).run_prior(np.zeros(CELLS))[0]
    rise_s = typical_rise_s(grid, typical)
    wander = replace(spread, offset=0.0, tilt=0.0, delay=0.01)  # type: ignore[type-var]
    covariance = run_covariance(wander, rise_s) + 1e-12 * np.eye(CELLS + 1)
    rng = np.random.default_rng(3)
    logs = rng.multivariate_normal(run_mean(typical, wander), covariance, 4000)
    sampled_s = (np.exp(logs[:, 1:]) * grid.heat_j).sum(axis=1).mean()
    assert sampled_s == pytest.approx(rise_s, rel=0.02)


def test_what_the_file_only_guesses_leaves_the_heat_wider() -> None:
    grid = cold(STEEL, 82.0)
    known, guessed = (
        first_shared(engine, grid).covariance[5, 5]
        for engine in (STEEL, replace(STEEL, guessed=frozenset({"metal", "water"})))
    )
    assert guessed > 1.5 * known
    volume = replace(STEEL, guessed=frozenset({"volume"}))  # moves no heat
    assert first_shared(volume, grid).covariance[5, 5] == known
