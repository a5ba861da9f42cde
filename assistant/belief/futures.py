"""What may happen from here on: many equally drawn futures of one rise. Deterministic draws.

Pinned at the last reading: only what lies ahead of it is drawn, because drawing the whole path
again would undo what the readings said about how long it took.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from assistant.belief.bands import Array
from assistant.belief.rate_fit import Posterior, ReadingBound
from assistant.belief.temperature_grid import CELLS, TemperatureGrid

DRIFT = 0.3  # cells in ten minutes that the water may drift while the pressure is held
DRAWS = 256  # for each spread; half of them mirrored


@dataclass(frozen=True, eq=False)
class CellTimes:
    """From positions to seconds from cold and back, each row its own. cell_s: seconds each cell
    takes (S, CELLS)."""

    cell_s: Array

    @cached_property
    def edges_s(self) -> Array:
        """Seconds from cold to each edge, (S, CELLS + 1)."""
        cold = np.zeros((len(self.cell_s), 1))
        return np.concatenate([cold, np.cumsum(self.cell_s, axis=1)], axis=1)

    def seconds(self, position: Array) -> Array:
        """Seconds from cold to a position, (S)."""
        whole = np.clip(position.astype(int), 0, CELLS - 1)
        rows = np.arange(len(self.cell_s))
        passed: Array = self.edges_s[rows, whole] + (position - whole) * self.cell_s[rows, whole]
        return passed

    def position(self, seconds: Array) -> Array:
        """Positions reached after so many seconds from cold, (S), held to the ladder."""
        edges = self.edges_s[:, 1:]
        whole = np.minimum((edges <= seconds[:, None]).sum(axis=1), CELLS - 1)
        rows = np.arange(len(self.cell_s))
        before = edges[rows, whole] - self.cell_s[rows, whole]
        part = np.clip((seconds - before) / self.cell_s[rows, whole], 0.0, 1.0)
        return np.asarray(whole + part, dtype=float)


@dataclass(frozen=True, eq=False)
class Outlook:
    """Futures: weights (S), position now in cells (S), how long each cell takes."""

    grid: TemperatureGrid
    weight: Array
    now: Array
    clock: CellTimes

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
    """Draws from a posterior, whatever the time: weights (S), how long each cell takes.

    delay_s: from lighting until heat comes (S). at_last_s: seconds from cold to where the newest
    reading stood (S), which was called at `last_s`; None where nothing was read.
    """

    grid: TemperatureGrid
    weight: Array
    clock: CellTimes
    delay_s: Array
    drift: Array
    at_last_s: Array | None
    last_s: float


@lru_cache(maxsize=8)
def draw_futures(belief: Posterior, last: ReadingBound | None) -> Futures:
    """Draws pinned at the newest reading's bound. None: nothing was read yet."""
    draws = _normals(belief.mean.shape[1])
    shares = [(g, float(share)) for g, share in enumerate(belief.weight) if share >= 0.01]
    weight, seconds, delays, at_last = [], [], [], []
    for g, share in shares:
        z = belief.mean[g] + draws @ square_root(belief.covariance[g]).T
        cell_s = np.exp(np.clip(z[:, 1 : CELLS + 1], -60.0, 25.0)) * belief.grid.heat_j
        weight.append(np.full(DRAWS, share / DRAWS))
        seconds.append(cell_s)
        delays.append(np.exp(np.clip(z[:, 0], -60.0, 25.0)))
        if last is not None:
            at_last.append(CellTimes(cell_s).seconds(_pinned(belief, g, z, last)))
    weights = np.concatenate(weight)
    return Futures(
        belief.grid,
        weights / weights.sum(),
        CellTimes(np.concatenate(seconds)),
        np.concatenate(delays),
        np.tile(draws[:, -1], len(shares)),
        np.concatenate(at_last) if last is not None else None,
        last.at_s if last is not None else 0.0,
    )


def outlook(of: Futures, now_s: float, lit_s: float | None, held_s: float = 0.0) -> Outlook:
    """Futures from `now_s` on.

    held_s: how much of the time since the last reading the pressure held rather than rose [s].
    """
    if of.at_last_s is None:
        began = now_s if lit_s is None else lit_s
        heated = np.maximum(now_s - began - held_s - of.delay_s, 0.0)
        return Outlook(of.grid, of.weight, of.clock.position(heated), of.clock)
    rose_s = max(now_s - of.last_s - held_s, 0.0)
    now = of.clock.position(of.at_last_s + rose_s)
    now = np.clip(now + DRIFT * held_s / 600.0 * of.drift, 0.0, float(CELLS))
    return Outlook(of.grid, of.weight, now, of.clock)


def square_root(covariance: Array) -> Array:
    """R with R R' the covariance, also where rounding has left it a little less than positive.

    Long runs with many readings do that: then the small negative parts are taken as nothing.
    """
    both = (covariance + covariance.T) / 2.0
    try:
        padded = both + np.diag(1e-12 + 1e-7 * np.abs(np.diag(both)))
        return np.asarray(np.linalg.cholesky(padded), dtype=np.float64)
    except np.linalg.LinAlgError:
        parts, ways = np.linalg.eigh(both)
        return np.asarray(ways * np.sqrt(np.clip(parts, 0.0, None)), dtype=np.float64)


def _pinned(belief: Posterior, g: int, z: Array, last: ReadingBound) -> Array:
    """Where each draw stands at the last reading: straight about the mean, held in its bound.

    Not held where the fit itself took that reading for a wild one.
    """
    mean, stretch = belief.mean[g], belief.stretches[last.stretch]
    cell_s = np.exp(np.clip(mean[1 : CELLS + 1], -60.0, 25.0)) * belief.grid.heat_j
    began = mean[CELLS + 1 + last.stretch]
    began += float(np.exp(min(mean[0], 25.0))) if stretch.from_lighting else 0.0
    row = CellTimes(cell_s[None, :])
    since = row.seconds(np.array([stretch.start])) + max(last.at_s - began, 0.0)
    middle = float(row.position(since)[0])
    outlier = (
        last.outlier > 0.0
        and not last.low - 4.0 * last.slack < middle < last.high + 4.0 * last.slack
    )
    middle = middle if outlier else min(max(middle, last.low), last.high)
    passed = np.clip(middle - np.arange(CELLS), 0.0, 1.0)
    passed -= np.clip(stretch.start - np.arange(CELLS), 0.0, 1.0)
    slope = np.zeros(len(mean))
    slope[1 : CELLS + 1] = np.maximum(passed, 0.0) * cell_s
    slope[0] = float(np.exp(min(mean[0], 25.0))) if stretch.from_lighting else 0.0
    slope[CELLS + 1 + last.stretch] = 1.0
    late_s = (z - mean) @ slope
    here = cell_s[min(int(middle), CELLS - 1)]
    free: Array = np.clip(middle - late_s / here, 0.0, float(CELLS))
    held: Array = np.clip(free, last.low - last.slack, last.high + last.slack)
    return free if outlier else np.maximum(held, 0.0)
