"""Logs of normal probabilities against the standard library, in the middle and far out."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.belief.normal_tail import density_over, log_between


@given(st.floats(-5.0, 5.0), st.floats(0.01, 5.0))
def test_an_interval_has_the_probability_of_the_error_function(low: float, width: float) -> None:
    high = low + width
    near, far = (low, high) if low + high >= 0.0 else (-high, -low)
    exact = 0.5 * (math.erfc(near / math.sqrt(2.0)) - math.erfc(far / math.sqrt(2.0)))
    got = math.exp(float(log_between(np.array([low]), np.array([high]))[0]))
    # the fit of erfc is good to 1.2e-7 of itself at either end
    assert got == pytest.approx(exact, abs=2.5e-7 * math.erfc(near / math.sqrt(2.0)))


@pytest.mark.parametrize("x", [8.0, 20.0, 35.0])
def test_far_out_it_follows_the_asymptotic_series(x: float) -> None:
    # Abramowitz & Stegun 26.2.12
    series = 1.0 - 1.0 / x**2 + 3.0 / x**4 - 15.0 / x**6
    exact = -0.5 * x * x - math.log(x * math.sqrt(2.0 * math.pi)) + math.log(series)
    for low, high in ((x, 60.0), (-60.0, -x)):
        got = float(log_between(np.array([low]), np.array([high]))[0])
        assert got == pytest.approx(exact, rel=1e-5)


def test_an_empty_interval_is_improbable_and_still_a_number() -> None:
    assert np.isfinite(log_between(np.array([1.0]), np.array([1.0]))).all()


def test_the_density_is_relative_to_the_mass() -> None:
    x, log_mass = np.array([0.0, 1.0]), np.log([0.5, 0.25])
    phi = np.exp(-0.5 * x**2) / math.sqrt(2.0 * math.pi)
    assert density_over(x, log_mass) == pytest.approx(phi / np.array([0.5, 0.25]))
