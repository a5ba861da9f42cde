"""The root of a covariance: of a sound one, and of one that rounding has spoilt."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.belief.futures import square_root


def test_a_sound_covariance_is_reproduced() -> None:
    draw = np.random.default_rng(1).standard_normal((6, 6))
    covariance = draw @ draw.T + np.eye(6)
    root = square_root(covariance)
    assert root @ root.T == pytest.approx(covariance, rel=1e-5)


def test_a_little_less_than_positive_is_taken_as_nothing_there() -> None:
    ways = np.linalg.qr(np.random.default_rng(2).standard_normal((5, 5)))[0]
    spoilt = (ways * np.array([4.0, 1.0, 0.5, 0.1, -0.01])) @ ways.T
    with pytest.raises(np.linalg.LinAlgError):
        np.linalg.cholesky(spoilt)
    root = square_root(spoilt)
    assert np.isfinite(root).all()
    kept = (ways * np.array([4.0, 1.0, 0.5, 0.1, 0.0])) @ ways.T
    assert root @ root.T == pytest.approx(kept, abs=1e-9)
