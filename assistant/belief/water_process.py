"""A Gaussian process of the water over time [kg], fitted to levels by each of three explanations.

The water is a start, feed and steam in proportion to what was reported, a steady loss, and a loss
that may set in at any time. Knows no engine and no glass.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from assistant.belief.bands import Array

FEED_MEAN, FEED_SD = 0.85, 0.25  # part of the pump's figure that arrives; slip is from memory
STEAM_SD = 0.5  # how far steam taken may be off its nominal figure
TIGHT = "tight"
# Probability of each explanation before any level; alert to a loss (common practice, no source).
CHANCES: dict[str, float] = {TIGHT: 0.8, "leaking": 0.1, "sets in": 0.1}
FREEDOM = 8.0  # degrees of freedom of the t distribution of readings

Basis = tuple[Array, Array, Array]  # nominal feed and steam, and time, since the start


@dataclass(frozen=True, eq=False)
class PriorCovariance:
    """Prior covariance between the water at some times and at others, by what it is made of."""

    span_kg: float
    """water between bottom and top of the glass, cold [kg]"""
    a: Basis
    """of the times of the rows"""
    b: Basis
    """of the times of the columns"""

    @cached_property
    def feed(self) -> Array:
        """Of the feed."""
        return FEED_SD**2 * np.outer(self.a[0], self.b[0])

    @cached_property
    def steam(self) -> Array:
        """Of the steam taken."""
        return STEAM_SD**2 * np.outer(self.a[1], self.b[1])

    @cached_property
    def _without_loss(self) -> Array:
        return (0.35 * self.span_kg) ** 2 + self.feed + self.steam

    @cached_property
    def _elapsed(self) -> Array:
        return np.outer(self.a[2], self.b[2])

    def loss(self, kind: str) -> Array:
        """Of the loss, by one explanation."""
        steady: Array = (self.span_kg / 40.0 / 3600.0) ** 2 * self._elapsed
        if kind == "leaking":
            return steady + (self.span_kg / 3.0 / 3600.0) ** 2 * self._elapsed
        if kind == "sets in":
            early = np.minimum(self.a[2][:, None], self.b[2][None, :])
            late = np.maximum(self.a[2][:, None], self.b[2][None, :])
            hourly = (self.span_kg / 3600.0) ** 2 / 1200.0
            return steady + hourly * early**2 * (3.0 * late - early) / 6.0
        return steady

    def total(self, kind: str) -> Array:
        """Of all of it, by one explanation."""
        return self._without_loss + self.loss(kind)


@dataclass(frozen=True, eq=False)
class LevelFit:
    """One explanation of the n levels seen."""

    kind: str
    """key of `CHANCES`"""
    covariance: Array
    """of the levels, with their noise (n, n)"""
    pull: Array
    """inverse covariance times the deviations from the prior mean (n)"""
    log: float
    """log evidence"""

    @cached_property
    def inverse(self) -> Array:
        """Inverse of the covariance."""
        return np.asarray(np.linalg.inv(self.covariance), dtype=float)


def level_fits(prior: PriorCovariance, deviation: Array, noise: Array) -> list[LevelFit]:
    """Fit every explanation at once, with Student's t noise by reweighting until weights converge.

    deviation: levels less their prior mean [kg]; noise: standard deviation of each [kg].
    """
    priors = np.stack([prior.total(kind) for kind in CHANCES])
    count = len(noise)
    covariance, pull = np.empty_like(priors), np.empty((len(priors), count))
    weight = np.ones((len(priors), count))
    active = np.arange(len(priors))
    diagonal = np.arange(count)
    for _ in range(6):
        clean = priors[active]
        noisy = clean.copy()
        noisy[:, diagonal, diagonal] += noise**2 / weight[active]
        pulled = np.linalg.solve(noisy, deviation[:, None])
        residual = (deviation - (clean @ pulled)[..., 0]) / noise
        before, now = weight[active], (FREEDOM + 1.0) / (FREEDOM + residual**2)
        covariance[active], pull[active], weight[active] = noisy, pulled[..., 0], now
        active = active[np.abs(now - before).max(axis=1) >= 1e-3]
        if not len(active):
            break
    half = FREEDOM / 2.0
    logs = -0.5 * pull @ deviation - 0.5 * np.linalg.slogdet(covariance)[1]
    logs += (half * (np.log(weight) - weight + 1.0) - np.log(weight)).sum(axis=1)
    return [
        LevelFit(kind, covariance[n], pull[n], float(logs[n])) for n, kind in enumerate(CHANCES)
    ]
