"""Weighted quantiles and the band they make."""

from __future__ import annotations

from dataclasses import astuple

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.belief.bands import band, weighted_quantile

values = st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=20)


def test_even_weights_give_the_ordinary_median() -> None:
    assert weighted_quantile(np.array([5.0, 1.0, 3.0]), np.ones(3), 0.5) == 3.0


def test_a_value_without_weight_counts_for_nothing() -> None:
    draws, weight = np.array([1.0, 2.0, 100.0]), np.array([1.0, 1.0, 0.0])
    assert weighted_quantile(draws, weight, 0.5) == pytest.approx(1.5)


@given(values, st.floats(0.1, 10.0))
def test_a_band_is_ordered_within_its_draws_and_blind_to_the_scale_of_weights(
    draws: list[float], scale: float
) -> None:
    array, weight = np.array(draws), np.linspace(1.0, 2.0, len(draws))
    found = band(array, weight)
    assert min(draws) <= found.low <= found.mid <= found.high <= max(draws)
    again = band(array, scale * weight)
    rounding = 1e-9 * max(map(abs, draws))
    for one, other in zip(astuple(again), astuple(found), strict=True):
        assert one == pytest.approx(other, abs=rounding)
