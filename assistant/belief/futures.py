"""Sampled futures of one rise, from fixed random draws.

Pinned at the last reading: only what lies ahead of it is drawn, because drawing the whole path
again would undo what the readings said about how long it took.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from assistant.belief.bands import Array
from assistant.belief.rate_fit import Posterior
from assistant.belief.reading_bounds import ReadingBound
from assistant.belief.temperature_grid import CELLS, TemperatureGrid

DRIFT = 0.3  # cells in ten minutes that the water may drift while the pressure is held
DRAWS = 256  # for each spread; half of them mirrored


@dataclass(frozen=True, eq=False)
class CellTimes:
    """From positions to seconds from cold and back, each of the S rows for itself."""

    cell_s: Array
    """seconds that each cell takes (S, CELLS)"""

    @cached_property
    def edges_s(self) -> Array:
        """Seconds from cold to each edge, (S, CELLS + 1)."""
        cold = np.zeros((len(self.cell_s), 1))
        return np.concatenate([cold, np.cumsum(self.cell_s, axis=1)], axis=1)

    def seconds(self, position: Array) -> Array:
        """Seconds from cold to a position, (S)."""
        whole = np.clip(position.astype(int), 0, CELLS - 1)
        rows = np.arange(len(self.cell_s))
        seconds: Array = self.edges_s[rows, whole] + (position - whole) * self.cell_s[rows, whole]
        return seconds

    def position(self, seconds: Array) -> Array:
        """Positions reached after so many seconds from cold, (S), clamped to the grid."""
        edges = self.edges_s[:, 1:]
        whole = np.minimum((edges <= seconds[:, None]).sum(axis=1), CELLS - 1)
        rows = np.arange(len(self.cell_s))
        before = edges[rows, whole] - self.cell_s[rows, whole]
        part = np.clip((seconds - before) / self.cell_s[rows, whole], 0.0, 1.0)
        return np.asarray(whole + part, dtype=float)


@dataclass(frozen=True, eq=False)
class Outlook:
    """Futures from one time on, S of them."""

    grid: TemperatureGrid
    """the cells"""
    weight: Array
    """probability of each (S)"""
    now: Array
    """where each is now [cells] (S)"""
    clock: CellTimes
    """how long each takes for each cell"""

    @property
    def cell_s(self) -> Array:
        """Seconds each cell takes, (S, CELLS)."""
        return self.clock.cell_s

    def seconds_to(self, position: float) -> Array:
        """Seconds from now until a position is reached, (S); 0 where it is behind."""
        then = self.clock.seconds(np.full(len(self.now), position))
        return np.maximum(then - self.clock.seconds(self.now), 0.0)

    def after(self, seconds: float | Array) -> Array:
        """Positions (S) so many seconds from now."""
        return self.clock.position(self.clock.seconds(self.now) + seconds)


@lru_cache(maxsize=8)
def _normals(size: int) -> Array:
    half = np.random.default_rng(19).standard_normal((DRAWS // 2, size))
    return np.concatenate([half, -half])


@dataclass(frozen=True, eq=False)
class Futures:
    """S draws from a posterior, whatever the time."""

    grid: TemperatureGrid
    """the cells"""
    weight: Array
    """probability of each (S)"""
    clock: CellTimes
    """how long each takes for each cell"""
    delay_s: Array
    """from lighting until heat comes [s] (S)"""
    drift: Array
    """standard normal, how far each drifts while pressure is held (S)"""
    at_last_s: Array | None
    """seconds from cold to where it was at the newest reading (S); None: nothing was read"""
    last_s: float
    """time of the newest reading [s]"""


@lru_cache(maxsize=8)
def draw_futures(fit: Posterior, last: ReadingBound | None) -> Futures:
    """Draws pinned at the newest reading's bound; last None: nothing was read yet."""
    draws = _normals(fit.mean.shape[1])
    shares = [(g, float(share)) for g, share in enumerate(fit.weight) if share >= 0.01]
    weight, seconds, delays, at_last = [], [], [], []
    for g, share in shares:
        z = fit.mean[g] + draws @ square_root(fit.covariance[g]).T
        cell_s = np.exp(np.clip(z[:, 1 : CELLS + 1], -60.0, 25.0)) * fit.grid.heat_j
        weight.append(np.full(DRAWS, share / DRAWS))
        seconds.append(cell_s)
        delays.append(np.exp(np.clip(z[:, 0], -60.0, 25.0)))
        if last is not None:
            at_last.append(CellTimes(cell_s).seconds(_pinned(fit, g, z, last)))
    weights = np.concatenate(weight)
    return Futures(
        fit.grid,
        weights / weights.sum(),
        CellTimes(np.concatenate(seconds)),
        np.concatenate(delays),
        np.tile(draws[:, -1], len(shares)),
        np.concatenate(at_last) if last is not None else None,
        last.at_s if last is not None else 0.0,
    )


def outlook_from(
    futures: Futures, now_s: float, lit_s: float | None, held_s: float = 0.0
) -> Outlook:
    """Futures from `now_s` on.

    held_s: how much of the time since the last reading the pressure held rather than rose [s].
    """
    if futures.at_last_s is None:
        began = now_s if lit_s is None else lit_s
        heated = np.maximum(now_s - began - held_s - futures.delay_s, 0.0)
        return Outlook(futures.grid, futures.weight, futures.clock.position(heated), futures.clock)
    rose_s = max(now_s - futures.last_s - held_s, 0.0)
    now = futures.clock.position(futures.at_last_s + rose_s)
    now = np.clip(now + DRIFT * held_s / 600.0 * futures.drift, 0.0, float(CELLS))
    return Outlook(futures.grid, futures.weight, now, futures.clock)


def square_root(covariance: Array) -> Array:
    """R with R R' the covariance, also where rounding made it slightly indefinite.

    Long runs with many readings do that: small negative eigenvalues are then taken as zero.
    """
    symmetric = (covariance + covariance.T) / 2.0
    try:
        padded = symmetric + np.diag(1e-12 + 1e-7 * np.abs(np.diag(symmetric)))
        return np.asarray(np.linalg.cholesky(padded), dtype=np.float64)
    except np.linalg.LinAlgError:
        values, vectors = np.linalg.eigh(symmetric)
        return np.asarray(vectors * np.sqrt(np.clip(values, 0.0, None)), dtype=np.float64)


def _pinned(fit: Posterior, g: int, z: Array, last: ReadingBound) -> Array:
    """Where each draw is at the last reading [cells]: linear about the mean, clamped to its bound.

    Not clamped where the fit itself took that reading for an outlier.
    """
    mean, segment = fit.mean[g], fit.segments[last.segment]
    cell_s = np.exp(np.clip(mean[1 : CELLS + 1], -60.0, 25.0)) * fit.grid.heat_j
    began = mean[CELLS + 1 + last.segment]
    began += float(np.exp(min(mean[0], 25.0))) if segment.from_lighting else 0.0
    row = CellTimes(cell_s[None, :])
    since = row.seconds(np.array([segment.start])) + max(last.at_s - began, 0.0)
    middle = float(row.position(since)[0])
    outlier = (
        last.outlier > 0.0
        and not last.low - 4.0 * last.slack < middle < last.high + 4.0 * last.slack
    )
    middle = middle if outlier else min(max(middle, last.low), last.high)
    crossed = np.clip(middle - np.arange(CELLS), 0.0, 1.0)
    crossed -= np.clip(segment.start - np.arange(CELLS), 0.0, 1.0)
    slope = np.zeros(len(mean))
    slope[1 : CELLS + 1] = np.maximum(crossed, 0.0) * cell_s
    slope[0] = float(np.exp(min(mean[0], 25.0))) if segment.from_lighting else 0.0
    slope[CELLS + 1 + last.segment] = 1.0
    late_s = (z - mean) @ slope
    here = cell_s[min(int(middle), CELLS - 1)]
    free: Array = np.clip(middle - late_s / here, 0.0, float(CELLS))
    clamped: Array = np.clip(free, last.low - last.slack, last.high + last.slack)
    return free if outlier else np.maximum(clamped, 0.0)
