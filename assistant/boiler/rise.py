"""What the readings of one run say about its heat rate: a Gaussian posterior for each spread.

A reading says how long a run of cells took together: an interval, because it was rounded. Laplace's
step makes it Gaussian; evidence weighs the spreads. Knows no clock, no words and no water level.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from assistant.boiler.ladder import CELLS, Array, Ladder
from assistant.boiler.prior import SPREADS, Shared, run_covariance, run_mean, usual_s


@dataclass(frozen=True, slots=True)
class Bound:
    """At a time of a stretch the water stood between two positions (in cells)."""

    stretch: int
    at_s: float
    low: float
    high: float
    slack: float = 0.1  # smear of both ends, in cells


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


WILD = 0.03  # part of readings that say nothing: misread, misheard. Common practice, no source


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
    for loosen in fit.loosening(now):
        now, curvature, value = _climb(fit, now, loosen, 25 if loosen == 1.0 else 4)
    covariance = np.asarray(np.linalg.inv(curvature), dtype=float)
    logs = value + 0.5 * (np.linalg.slogdet(precision)[1] - np.linalg.slogdet(curvature)[1])
    told = shared.logs + logs
    weight = np.exp(told - told.max())
    return Posterior(ladder_, stretches, weight / weight.sum(), now, covariance, logs)


def _climb(fit: _Fit, now: Array, loosen: float, most: int) -> tuple[Array, Array, Array]:
    """Newton steps on every spread at once, each halved until it does not go down."""
    value, gradient, curvature = fit.at(now, loosen)
    for _ in range(most):
        step = np.linalg.solve(curvature, gradient[..., None])[..., 0]
        reach = np.abs(step[:, : CELLS + 1]).max(axis=1)
        step *= np.minimum(1.0, 1.0 / np.maximum(reach, 1e-12))[:, None]
        scale = np.ones(len(now))
        for _ in range(6):
            trial = now + scale[:, None] * step
            new = fit.at(trial, loosen)
            worse = new[0] < value - 1e-9
            if not worse.any():
                break
            scale = np.where(worse, scale / 3.0, scale)
        gain = np.where(worse, 0.0, new[0] - value)
        now = np.where(worse[:, None], now, trial)
        value, gradient, curvature = fit.at(now, loosen) if worse.any() else new
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
        self.cell = [np.clip(e.astype(int), 0, CELLS - 1) for e in ends]
        self.joules = ladder_.heat_j

    def times(self, z: Array, end: int) -> tuple[Array, Array]:
        """When each bound's end is reached (G, n), and its gradient (G, n, D)."""
        seconds = np.exp(np.clip(z[:, : CELLS + 1], -60.0, 25.0))
        by_cells = self.run[end][None] * seconds[:, None, 1:]
        by_delay = self.delay[None] * seconds[:, :1]
        origin = np.broadcast_to(self.origin, (len(z), *self.origin.shape))
        time = by_cells.sum(2) + by_delay + z[:, CELLS + 1 :] @ self.origin.T
        return time, np.concatenate([by_delay[..., None], by_cells, origin], axis=2)

    def loosening(self, z: Array) -> list[float]:
        """Factors on the smear, falling to 1, so that no reading starts out of reach."""
        early, late = self.times(z, 0)[0], self.times(z, 1)[0]
        smear_a, smear_b = self.smear(z)
        far = max(
            float(((early - self.at_s) / smear_a).max()),
            float(((self.at_s - late) / smear_b).max()),
        )
        factors = [1.0]
        while factors[-1] * 2.0 < far:
            factors.append(factors[-1] * 4.0)
        return factors[::-1]

    def smear(self, z: Array) -> tuple[Array, Array]:
        """Smear of both ends in seconds: of the gauge, and of the moment of calling (8 s)."""
        per_cell = np.exp(np.clip(z[:, 1 : CELLS + 1], -60.0, 25.0)) * self.joules
        return (
            self.slack * per_cell[:, self.cell[0]] + 8.0,
            self.slack * per_cell[:, self.cell[1]] + 8.0,
        )

    def at(self, z: Array, loosen: float = 1.0) -> tuple[Array, Array, Array]:
        """Value, gradient and curvature; with a loosened smear no reading counts as wild."""
        early, by_early = self.times(z, 0)
        late, by_late = self.times(z, 1)
        smear_a, smear_b = (loosen * smear for smear in self.smear(z))
        wild = WILD if loosen == 1.0 else 0.0
        a, b = (self.at_s - early) / smear_a, (self.at_s - late) / smear_b
        inside = np.maximum(_normal_cdf(a) - _normal_cdf(b), 1e-12)
        sure = (1.0 - wild) * inside
        belief = sure / (sure + wild * 0.1)
        da, db = _normal_pdf(a) / inside, _normal_pdf(b) / inside
        score_a, score_b = -da / smear_a, db / smear_b
        bend_a, bend_b = da * (a + da) / smear_a**2, db * (-b + db) / smear_b**2
        cross = -da * db / (smear_a * smear_b)
        off = z - self.mean
        pull = np.einsum("gij,gj->gi", self.precision, off)
        value = np.log(sure + wild * 0.1).sum(1) - 0.5 * (off * pull).sum(1)
        gradient = -pull
        gradient += np.einsum("gn,gnd->gd", belief * score_a, by_early)
        gradient += np.einsum("gn,gnd->gd", belief * score_b, by_late)
        curvature = self.precision.copy()
        mixed_a = (belief * bend_a)[..., None] * by_early + (belief * cross)[..., None] * by_late
        mixed_b = (belief * bend_b)[..., None] * by_late + (belief * cross)[..., None] * by_early
        curvature += np.swapaxes(by_early, 1, 2) @ mixed_a + np.swapaxes(by_late, 1, 2) @ mixed_b
        return value, gradient, curvature


def _overlap(start: Array, end: Array) -> Array:
    """How much of each cell lies between start and end, (n, CELLS)."""
    left = np.arange(CELLS)[None, :]
    below = np.clip(end[:, None] - left, 0.0, 1.0) - np.clip(start[:, None] - left, 0.0, 1.0)
    return np.maximum(below, 0.0)


def _normal_pdf(x: Array) -> Array:
    density: Array = np.exp(-0.5 * np.minimum(x * x, 700.0)) / math.sqrt(2.0 * math.pi)
    return density


def _normal_cdf(x: Array) -> Array:
    """Standard normal, Abramowitz & Stegun 26.2.17, absolute error below 7.5e-8."""
    t = 1.0 / (1.0 + 0.2316419 * np.abs(x))
    series = t * (
        0.319381530 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429)))
    )
    tail = _normal_pdf(x) * series
    return np.where(x > 0.0, 1.0 - tail, tail)
