"""Normal probabilities of intervals as logs, accurate far out in the tails. Pure arithmetic."""

from __future__ import annotations

import math

import numpy as np

from assistant.belief.bands import Array


def log_between(low: Array, high: Array) -> Array:
    """Log of the standard normal probability between two values, far out in a tail as well."""
    mirrored = low + high < 0.0
    near, far = np.where(mirrored, -high, low), np.where(mirrored, -low, high)
    near_tail, far_tail = _log_above(np.array([near, far]))
    part = np.minimum(far_tail - near_tail, -1e-9)
    return np.asarray(near_tail + np.log(-np.expm1(part)), dtype=float)


# Chebyshev fit of erfc, fractional error below 1.2e-7 everywhere (Press et al., Numerical Recipes,
# section 6.2), constant term first.
ERFC = (-1.26551223, 1.00002368, 0.37409196, 0.09678418, -0.18628806,
        0.27886807, -1.13520398, 1.48851587, -0.82215223, 0.17087277)  # fmt: skip


def _log_above(x: Array) -> Array:
    """Log of the standard normal probability above x."""
    size = np.abs(x) / math.sqrt(2.0)
    t = 1.0 / (1.0 + 0.5 * size)
    series = ERFC[-1] * t + ERFC[-2]
    for term in ERFC[-3::-1]:
        series *= t
        series += term
    tail = np.log(0.5 * t) - size**2 + series
    return np.asarray(np.where(x > 0.0, tail, np.log1p(-np.exp(tail))), dtype=float)


def density_over(x: Array, log_mass: Array) -> Array:
    """Standard normal density over a probability given by its log."""
    density: Array = np.exp(-0.5 * x * x - 0.5 * math.log(2.0 * math.pi) - log_mass)
    return density
