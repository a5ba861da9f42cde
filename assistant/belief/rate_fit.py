"""What the readings of one run say about its heat rate: a Gaussian posterior for each spread.

A reading says how long a run of cells took together: an interval, because it was rounded. Laplace's
step makes it Gaussian; evidence weighs the spreads. Knows no clock, no words and no water level.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from assistant.belief.bands import Array
from assistant.belief.prior import SPREADS, Shared, run_covariance, run_mean, usual_s
from assistant.belief.temperature_grid import CELLS, TemperatureGrid

WILD = 0.03  # part of readings that say nothing: misread, misheard. Common practice, no source


@dataclass(frozen=True, slots=True)
class ReadingBound:
    """At a time of a stretch the water stood between two positions (in cells)."""

    stretch: int
    at_s: float
    low: float
    high: float
    slack: float = 0.1  # smear of both ends, in cells
    outlier: float = WILD  # chance that it says nothing


@dataclass(frozen=True, slots=True)
class Segment:
    """An unbroken rise: from a position, begun about a time or with the lighting."""

    start: float
    about_s: float
    spread_s: float
    from_lighting: bool = False


@dataclass(frozen=True, eq=False)
class Posterior:
    """One Gaussian for each spread: weights (G), means (G, D), covariances (G, D, D).

    D: delay, cells, then one starting time for each stretch.
    """

    grid: TemperatureGrid
    stretches: tuple[Segment, ...]
    weight: Array
    mean: Array
    covariance: Array
    logs: Array  # evidence of each, for learning


def posterior(
    grid: TemperatureGrid,
    shared: Shared,
    stretches: tuple[Segment, ...],
    bounds: tuple[ReadingBound, ...],
    draught: Array,
) -> Posterior:
    """Laplace's Gaussian for each spread, weighed by evidence. Pure; no randomness.

    The last few are kept: a report that is no pressure seldom changes anything here.
    """
    cells = grid.edges_k.tobytes(), grid.heat_j.tobytes()
    return _worked(shared, *cells, stretches, bounds, draught.tobytes())


@lru_cache(maxsize=16)
def _worked(
    shared: Shared, edges_k: bytes, heat_j: bytes, stretches: tuple[Segment, ...],
    bounds: tuple[ReadingBound, ...], draught: bytes,
) -> Posterior:  # fmt: skip
    grid = TemperatureGrid(np.frombuffer(edges_k), np.frombuffer(heat_j))
    size = CELLS + 1 + len(stretches)
    usual, spread_of_usual, _ = shared.seen_through(np.frombuffer(draught))
    way_s = usual_s(grid, usual)
    mean = np.zeros((len(SPREADS), size))
    mean[:, CELLS + 1 :] = [s.about_s for s in stretches]
    prior = np.zeros((len(SPREADS), size, size))
    for g, spread in enumerate(SPREADS):
        mean[g, : CELLS + 1] = run_mean(usual, spread)
        prior[g, : CELLS + 1, : CELLS + 1] = spread_of_usual + run_covariance(spread, way_s)
    starts = np.arange(CELLS + 1, size)
    prior[:, starts, starts] = [s.spread_s**2 for s in stretches]
    prior += 1e-9 * np.eye(size)
    if not bounds:
        known = np.exp(shared.logs - shared.logs.max())
        return Posterior(grid, stretches, known / known.sum(), mean, prior, np.zeros(len(SPREADS)))
    precision = np.asarray(np.linalg.inv(prior), dtype=float)
    fit = _Fit(grid, stretches, bounds, mean, precision)
    determinant = np.linalg.slogdet(precision)[1]
    while True:
        now, curvature, value = fit.best(mean)
        logs = value + 0.5 * (determinant - np.linalg.slogdet(curvature)[1])
        if not fit.believe_pairs(now[int(np.argmax(shared.logs + logs))]):
            break
    covariance = np.asarray(np.linalg.inv(curvature), dtype=float)
    told = shared.logs + logs
    weight = np.exp(told - told.max())
    return Posterior(grid, stretches, weight / weight.sum(), now, covariance, logs)


Slopes = tuple[Array, Array, Array]  # value (G), gradient (G, D), a positive curvature (G, D, D)


def _climb(at: Callable[[Array], Slopes], now: Array, enough: float) -> Slopes:
    """Newton steps on every spread at once, each shortened until it does not go down.

    enough: a gain in log probability that is worth no further step.

    Returns where they end, and curvature and value there.
    """
    value, gradient, curvature = at(now)
    for _ in range(25):
        step = np.linalg.solve(curvature, gradient[..., None])[..., 0]
        reach = np.abs(step[:, : CELLS + 1]).max(axis=1)
        step *= np.minimum(1.0, 1.0 / np.maximum(reach, 1e-12))[:, None]
        promised = (gradient * step).sum(axis=1)
        step[promised < enough] = 0.0
        if np.all(promised < enough):
            break
        for _ in range(4):
            new = at(now + step)
            worse = new[0] < value - 1e-9
            if not worse.any():
                break
            step[worse] /= 4.0
        if worse.any():
            step[worse] = 0.0
            new = at(now + step)
        gain = new[0] - value
        now = now + step
        value, gradient, curvature = new
        if np.all(gain < enough):
            break
    return now, curvature, value


class _Fit:
    """Log posterior, its gradient and a positive curvature, for all spreads at once.

    The ends of the bounds are in one array, the earlier (low) ones first: (2n, D).
    """

    def __init__(
        self,
        grid: TemperatureGrid,
        stretches: tuple[Segment, ...],
        bounds: tuple[ReadingBound, ...],
        mean: Array,
        precision: Array,
    ) -> None:
        self.mean, self.precision = mean, precision
        told = np.array([(b.at_s, b.low, b.high, b.slack, b.outlier) for b in bounds])
        self.at_s, low, high, slack, outlier = told.T
        self._may_be_wild(outlier)
        of = np.array([b.stretch for b in bounds])
        starts = np.array([s.start for s in stretches])[of]
        from_lighting = np.array([s.from_lighting for s in stretches], dtype=float)[of]
        origin = np.eye(len(stretches))[of]
        run = [_overlap(starts, end) * grid.heat_j for end in (low, high)]  # (n, K) joules
        self.moving = run[0].sum(axis=1) > 0.0
        self.rest = (low <= 0.0) & (from_lighting > 0.0)  # not moved: it may have been so all along
        self.design = np.concatenate(
            [np.concatenate([from_lighting[:, None], joules, origin], axis=1) for joules in run]
        )
        self.cell = 1 + np.clip(((low + high) / 2.0).astype(int), 0, CELLS - 1)
        self.smear_j = slack * grid.heat_j[self.cell - 1]
        self.both_at_s = np.tile(self.at_s, 2)
        self.rests = bool(self.rest.any())

    def times(self, z: Array) -> tuple[Array, Array, Array]:
        """How far each end lies before the reading, in smears (G, 2n); its smear in seconds
        (G, n), of the gauge and of the moment of calling (8 s); and the slopes of the times
        (G, 2n, D)."""
        seconds = np.ones(z.shape)
        logs = np.minimum(np.maximum(z[:, : CELLS + 1], -60.0), 25.0)
        np.exp(logs, out=seconds[:, : CELLS + 1])
        smear = self.smear_j * seconds[:, self.cell] + 8.0
        slopes = self.design * seconds[:, None, :]
        at = z.copy()
        at[:, : CELLS + 1] = seconds[:, : CELLS + 1]
        ends = (self.both_at_s - at @ self.design.T) / np.concatenate([smear, smear], axis=1)
        if self.rests:
            ends[:, : len(self.at_s)][:, self.rest] = LONG_BEFORE
        return ends, smear, slopes

    def best(self, start: Array) -> Slopes:
        """Where the log posterior is highest, its curvature and value there."""
        return _climb(self.at, _climb(self.pulled, start, 1.0)[0], 1e-2)

    def believe_pairs(self, z: Array) -> bool:
        """Take two readings in a row that this fit (D) leaves out as sure; whether there were any.

        One may be wild. Two that stand say that fire, water or metal are not as they were told.
        """
        out = self.moving & (self.outlier > 0.0) & (self.told(self.times(z[None])[0])[0][0] < 0.5)
        pairs = out & (np.append(out[1:], False) | np.append(False, out[:-1]))
        self._may_be_wild(np.where(pairs, 0.0, self.outlier))
        return bool(pairs.any())

    def _may_be_wild(self, chance: Array) -> None:
        """The chance of each bound that it says nothing."""
        self.outlier, self.log_sure = chance, np.log1p(-chance)
        with np.errstate(divide="ignore"):
            self.log_wild = np.log(0.1 * chance)

    def told(self, off: Array) -> tuple[Array, Array, Array]:
        """For each bound (G, n): belief that it is not wild, log chance, and that of its inside."""
        inside = log_between(off[:, len(self.at_s) :], off[:, : len(self.at_s)])
        sure = self.log_sure + inside
        chance = np.logaddexp(sure, self.log_wild)
        return np.exp(sure - chance), chance, inside

    def prior(self, z: Array) -> tuple[Array, Array]:
        """What was thought before any reading: value and gradient."""
        off = z - self.mean
        pull = (self.precision @ off[..., None])[..., 0]
        return -0.5 * (off * pull).sum(1), -pull

    def pulled(self, z: Array) -> Slopes:
        """Each reading pulls like a spring towards its interval, one that may be wild no harder
        than from `HARDEST` smears off: leads from any start to where `at` has a slope."""
        count = len(self.at_s)
        ends, smear, slopes = self.times(z)
        before, after = -ends[:, :count], ends[:, count:]
        off = np.maximum(np.maximum(before, after), 0.0)
        along = np.where((before > 0.0)[..., None], -slopes[:, :count], slopes[:, count:])
        held = np.where(self.outlier > 0.0, HARDEST / np.maximum(off, HARDEST), 1.0)
        value, gradient = self.prior(z)
        value -= np.sum(held * off**2 * (1.0 - 0.5 * held), axis=1)
        gradient += ((held * off / smear)[:, None, :] @ along)[:, 0]
        firm = held * (off > 0.0) / smear**2
        return value, gradient, self.precision + np.swapaxes(along * firm[..., None], 1, 2) @ along

    def at(self, z: Array) -> Slopes:
        """The log posterior: each reading an interval, smeared, or wild."""
        ends, smear, slopes = self.times(z)
        belief, chance, inside = self.told(ends)
        count = len(self.at_s)
        a, b = ends[:, :count], ends[:, count:]
        density = _density_over(ends, np.concatenate([inside, inside], axis=1))
        da, db = density[:, :count], density[:, count:]
        value, gradient = self.prior(z)
        value += chance.sum(1)
        pull = belief / smear
        gradient += (np.concatenate([-pull * da, pull * db], axis=1)[:, None, :] @ slopes)[:, 0]
        firm = (belief / smear**2)[..., None]
        early, late = slopes[:, :count], slopes[:, count:]
        cross = firm * (-da * db)[..., None]
        bent = np.empty(slopes.shape)
        bent[:, :count] = firm * (da * (a + da))[..., None] * early + cross * late
        bent[:, count:] = firm * (db * (db - b))[..., None] * late + cross * early
        return value, gradient, self.precision + np.swapaxes(slopes, 1, 2) @ bent


LONG_BEFORE = 35.0  # smears; beyond them a normal probability is nothing
HARDEST = 3.0  # smears off from which a reading that may be wild pulls no harder


def _overlap(start: Array, end: Array) -> Array:
    """How much of each cell lies between start and end, (n, CELLS)."""
    left = np.arange(CELLS)[None, :]
    below = np.clip(end[:, None] - left, 0.0, 1.0) - np.clip(start[:, None] - left, 0.0, 1.0)
    return np.maximum(below, 0.0)


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


def _density_over(x: Array, log_mass: Array) -> Array:
    """Standard normal density over a probability given by its log."""
    density: Array = np.exp(-0.5 * x * x - 0.5 * math.log(2.0 * math.pi) - log_mass)
    return density
