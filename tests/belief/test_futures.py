"""Draws of the future, and the root of a covariance that rounding has made indefinite."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.belief.futures import square_root


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
