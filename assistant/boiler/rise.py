"""What the readings of one run say about its heat rate: a Gaussian posterior for each spread.

A reading says how long a run of cells took together: an interval, because it was rounded. Laplace's
step makes it Gaussian; evidence weighs the spreads. Knows no clock, no words and no water level.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from assistant.boiler.ladder import CELLS, Array, Ladder
from assistant.boiler.prior import SPREADS, Shared, run_covariance, run_mean, usual_s

WILD = 0.03  # part of readings that say nothing: misread, misheard. Common practice, no source


@dataclass(frozen=True, slots=True)
class Bound:
    """At a time of a stretch the water stood between two positions (in cells)."""

    stretch: int
    at_s: float
    low: float
    high: float
    slack: float = 0.1  # smear of both ends, in cells
    wild: float = WILD  # chance that it says nothing


@dataclass(frozen=True, slots=True)
class Stretch:
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

    ladder: Ladder
    stretches: tuple[Stretch, ...]
    weight: Array
    mean: Array
    covariance: Array
    logs: Array  # evidence of each, for learning


def posterior(
    ladder_: Ladder,
    shared: Shared,
    stretches: tuple[Stretch, ...],
    bounds: tuple[Bound, ...],
    draught: Array,
) -> Posterior:
    """Laplace's Gaussian for each spread, weighed by evidence. Pure; no randomness."""
    size = CELLS + 1 + len(stretches)
    usual, spread_of_usual, _ = shared.seen_through(draught)
    mean = np.zeros((len(SPREADS), size))
    mean[:, CELLS + 1 :] = [s.about_s for s in stretches]
    prior = np.zeros((len(SPREADS), size, size))
    for g, spread in enumerate(SPREADS):
        mean[g, : CELLS + 1] = run_mean(usual, spread)
        prior[g, : CELLS + 1, : CELLS + 1] = spread_of_usual + run_covariance(
            spread, usual_s(ladder_, usual)
        )
    for i, stretch in enumerate(stretches):
        prior[:, CELLS + 1 + i, CELLS + 1 + i] = stretch.spread_s**2
    prior += 1e-9 * np.eye(size)
    precision = np.asarray(np.linalg.inv(prior), dtype=float)
    now = mean
    if not bounds:
        known = np.exp(shared.logs - shared.logs.max())
        return Posterior(
            ladder_, stretches, known / known.sum(), now, prior, np.zeros(len(SPREADS))
        )
    fit = _Fit(ladder_, stretches, bounds, mean, precision)
    determinant = np.linalg.slogdet(precision)[1]
    while True:
        now, curvature, value = fit.best(mean)
        logs = value + 0.5 * (determinant - np.linalg.slogdet(curvature)[1])
        if not fit.believe_pairs(now[int(np.argmax(shared.logs + logs))]):
            break
    covariance = np.asarray(np.linalg.inv(curvature), dtype=float)
    told = shared.logs + logs
    weight = np.exp(told - told.max())
    return Posterior(ladder_, stretches, weight / weight.sum(), now, covariance, logs)


Slopes = tuple[Array, Array, Array]  # value (G), gradient (G, D), a positive curvature (G, D, D)


def _climb(at: Callable[[Array], Slopes], now: Array, most: int) -> Slopes:
    """Newton steps on every spread at once, each shortened until it does not go down.

    Returns where they end, and curvature and value there.
    """
    value, gradient, curvature = at(now)
    for _ in range(most):
        step = np.linalg.solve(curvature, gradient[..., None])[..., 0]
        reach = np.abs(step[:, : CELLS + 1]).max(axis=1)
        step *= np.minimum(1.0, 1.0 / np.maximum(reach, 1e-12))[:, None]
        scale = np.ones(len(now))
        for _ in range(6):
            trial = now + scale[:, None] * step
            new = at(trial)
            worse = new[0] < value - 1e-9
            if not worse.any():
                break
            scale = np.where(worse, scale / 3.0, scale)
        gain = np.where(worse, 0.0, new[0] - value)
        now = np.where(worse[:, None], now, trial)
        value, gradient, curvature = at(now) if worse.any() else new
        if np.all(gain < 1e-3):
            break
    return now, curvature, value


class _Fit:
    """Log posterior, its gradient and a positive curvature, for all spreads at once."""

    def __init__(
        self,
        ladder_: Ladder,
        stretches: tuple[Stretch, ...],
        bounds: tuple[Bound, ...],
        mean: Array,
        precision: Array,
    ) -> None:
        self.mean, self.precision = mean, precision
        self.at_s = np.array([b.at_s for b in bounds])
        ends = [np.array([b.low for b in bounds]), np.array([b.high for b in bounds])]
        starts = np.array([stretches[b.stretch].start for b in bounds])
        self.run = [_overlap(starts, end) * ladder_.heat_j for end in ends]  # (n, K) joules
        self.delay = np.array([stretches[b.stretch].from_lighting for b in bounds], dtype=float)
        self.origin = np.zeros((len(bounds), len(stretches)))
        self.origin[np.arange(len(bounds)), [b.stretch for b in bounds]] = 1.0
        self.slack = np.array([b.slack for b in bounds])
        self.wild = np.array([b.wild for b in bounds])
        middle = (ends[0] + ends[1]) / 2.0
        self.cell = np.clip(middle.astype(int), 0, CELLS - 1)
        self.joules = ladder_.heat_j[self.cell]

    def times(self, z: Array, end: int) -> tuple[Array, Array]:
        """When each bound's end is reached (G, n), and its gradient (G, n, D)."""
        seconds = np.exp(np.clip(z[:, : CELLS + 1], -60.0, 25.0))
        by_cells = self.run[end][None] * seconds[:, None, 1:]
        by_delay = self.delay[None] * seconds[:, :1]
        origin = np.broadcast_to(self.origin, (len(z), *self.origin.shape))
        time = by_cells.sum(2) + by_delay + z[:, CELLS + 1 :] @ self.origin.T
        return time, np.concatenate([by_delay[..., None], by_cells, origin], axis=2)

    def smear(self, z: Array) -> Array:
        """Smear of a bound in seconds (G, n): of the gauge, and of the moment of calling (8 s)."""
        per_cell = np.exp(np.clip(z[:, 1 + self.cell], -60.0, 25.0)) * self.joules
        return np.asarray(self.slack * per_cell + 8.0, dtype=float)

    def best(self, start: Array) -> Slopes:
        """Where the log posterior is highest, its curvature and value there."""
        near = _climb(self.pulled, start, 25)[0]
        return _climb(self.at, near, 25)

    def believe_pairs(self, z: Array) -> bool:
        """Take two readings in a row that this fit (D) leaves out as sure; whether there were any.

        One may be wild. Two that stand say that fire, water or metal are not as they were told.
        """
        wild = (self.wild > 0.0) & (self.run[0].sum(1) > 0.0)
        out = wild & (self.told(z[None])[0][0] < 0.5)
        pairs = out & (np.append(out[1:], False) | np.append(False, out[:-1]))
        self.wild = np.where(pairs, 0.0, self.wild)
        return bool(pairs.any())

    def told(self, z: Array) -> tuple[Array, ...]:
        """For each bound (G, n): belief that it is not wild, its log chance and the two ends."""
        early, late, smear = self.times(z, 0)[0], self.times(z, 1)[0], self.smear(z)
        a, b = (self.at_s - early) / smear, (self.at_s - late) / smear
        inside = log_between(b, a)
        sure = np.log1p(-self.wild) + inside
        with np.errstate(divide="ignore"):
            chance = np.logaddexp(sure, np.log(0.1 * self.wild))
        return np.exp(sure - chance), chance, inside, a, b

    def prior(self, z: Array) -> Slopes:
        """What was thought before any reading."""
        off = z - self.mean
        pull = np.einsum("gij,gj->gi", self.precision, off)
        return -0.5 * (off * pull).sum(1), -pull, self.precision.copy()

    def pulled(self, z: Array) -> Slopes:
        """Each reading pulls like a spring towards its interval, one that may be wild no harder
        than from `HARDEST` smears off: leads from any start to where `at` has a slope."""
        early, by_early = self.times(z, 0)
        late, by_late = self.times(z, 1)
        smear = self.smear(z)
        before, after = (early - self.at_s) / smear, (self.at_s - late) / smear
        off = np.maximum(np.maximum(before, after), 0.0)
        along = np.where((before > 0.0)[..., None], -by_early, by_late)
        held = np.where(self.wild > 0.0, np.minimum(1.0, HARDEST / np.maximum(off, HARDEST)), 1.0)
        value, gradient, curvature = self.prior(z)
        value -= np.sum(held * off**2 * (1.0 - 0.5 * held), axis=1)
        gradient += np.einsum("gn,gnd->gd", held * off / smear, along)
        firm = held * (off > 0.0) / smear**2
        curvature += np.swapaxes(along, 1, 2) @ (firm[..., None] * along)
        return value, gradient, curvature

    def at(self, z: Array) -> Slopes:
        """The log posterior: each reading an interval, smeared, or wild."""
        by_early = self.times(z, 0)[1]
        by_late = self.times(z, 1)[1]
        smear = self.smear(z)
        belief, chance, inside, a, b = self.told(z)
        da, db = _density_over(a, inside), _density_over(b, inside)
        bend_a, bend_b, cross = da * (a + da), db * (db - b), -da * db
        value, gradient, curvature = self.prior(z)
        value += chance.sum(1)
        pull = belief / smear
        gradient += np.einsum("gn,gnd->gd", -pull * da, by_early)
        gradient += np.einsum("gn,gnd->gd", pull * db, by_late)
        firm = belief / smear**2
        mixed_a = (firm * bend_a)[..., None] * by_early + (firm * cross)[..., None] * by_late
        mixed_b = (firm * bend_b)[..., None] * by_late + (firm * cross)[..., None] * by_early
        curvature += np.swapaxes(by_early, 1, 2) @ mixed_a + np.swapaxes(by_late, 1, 2) @ mixed_b
        return value, gradient, curvature


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
    near_tail, far_tail = _log_above(near), _log_above(far)
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
    series = np.full(x.shape, ERFC[-1])
    for term in ERFC[-2::-1]:
        series = series * t + term
    tail = np.log(0.5 * t) - size**2 + series
    return np.asarray(np.where(x > 0.0, tail, np.log1p(-np.exp(tail))), dtype=float)


def _density_over(x: Array, log_mass: Array) -> Array:
    """Standard normal density over a probability given by its log."""
    density: Array = np.exp(-0.5 * x * x - 0.5 * math.log(2.0 * math.pi) - log_mass)
    return density
