"""Draws of the future, and the root of a covariance that rounding has made indefinite."""

from __future__ import annotations

import numpy as np
import pytest
from boiler_engines import RAISING, belief_after

from assistant.belief import estimate
from assistant.belief.futures import CellTimes, outlook_from, square_root
from assistant.belief.temperature_grid import CELLS


def test_a_sound_covariance_is_reproduced() -> None:
    draw = np.random.default_rng(1).standard_normal((6, 6))
    covariance = draw @ draw.T + np.eye(6)
    root = square_root(covariance)
    assert root @ root.T == pytest.approx(covariance, rel=1e-5)


def test_a_small_negative_eigenvalue_is_taken_as_zero() -> None:
    vectors = np.linalg.qr(np.random.default_rng(2).standard_normal((5, 5)))[0]
    spoilt = (vectors * np.array([4.0, 1.0, 0.5, 0.1, -0.01])) @ vectors.T
    with pytest.raises(np.linalg.LinAlgError):
        np.linalg.cholesky(spoilt)
    root = square_root(spoilt)
    assert np.isfinite(root).all()
    expected = (vectors * np.array([4.0, 1.0, 0.5, 0.1, 0.0])) @ vectors.T
    assert root @ root.T == pytest.approx(expected, abs=1e-9)


def test_positions_and_seconds_are_each_others_inverse_and_clamped() -> None:
    clock = CellTimes(np.exp(np.random.default_rng(3).standard_normal((3, CELLS))))
    position = np.array([0.0, 3.7, 23.9])
    assert clock.position(clock.seconds(position)) == pytest.approx(position)
    assert clock.position(np.full(3, 1e9)).tolist() == [CELLS] * 3


def test_futures_start_at_the_last_reading_and_spread_with_time() -> None:
    belief = belief_after(RAISING)
    now, later = belief.outlook, estimate.predict(belief, belief.at_s + 600.0).outlook
    last = belief.segmented_run.last
    assert last is not None
    slack = last.slack + 1e-9
    assert (now.now >= last.low - slack).all()
    assert (now.now <= last.high + slack).all()
    assert later.now.std() > now.now.std()
    assert (later.seconds_to(float(CELLS)) < now.seconds_to(float(CELLS))).all()
    assert now.seconds_to(0.0).tolist() == [0.0] * len(now.now)


def test_held_pressure_drifts_and_does_not_rise() -> None:
    futures = belief_after(RAISING).rise_facts.futures
    rising, held = (outlook_from(futures, futures.last_s + 600.0, 300.0, s) for s in (0.0, 600.0))
    assert held.now.mean() < rising.now.mean()
    assert held.now.mean() == pytest.approx(outlook_from(futures, futures.last_s, 300.0).now.mean())
