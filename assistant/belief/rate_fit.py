"""Laplace fit of the heat rate to the readings of one run: a Gaussian posterior for each spread.

A reading bounds how long a number of cells took together: an interval, because it was rounded.
The evidence weighs the spreads. Knows no clock, no words and no water level.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from assistant.belief.bands import Array
from assistant.belief.normal_tail import density_over, log_between
from assistant.belief.prior import SPREADS, Shared, run_covariance, run_mean, typical_rise_s
from assistant.belief.reading_bounds import ReadingBound, Segment
from assistant.belief.temperature_grid import CELLS, TemperatureGrid

CALL_SMEAR_S = 8.0  # uncertainty of the moment of a call: common practice, no source
FAR_SMEARS = 35.0  # beyond this a normal probability vanishes
HUBER_LIMIT = 3.0  # smears from which a possible outlier pulls no harder


@dataclass(frozen=True, eq=False)
class Posterior:
    """One Gaussian for each of the G spreads, over D unknowns.

    The unknowns: log delay, log slowness of each cell, starting time of each segment.
    """

    grid: TemperatureGrid
    """the cells"""
    segments: tuple[Segment, ...]
    """the rises"""
    weight: Array
    """probability of each spread (G)"""
    mean: Array
    """(G, D)"""
    covariance: Array
    """(G, D, D)"""
    logs: Array
    """log evidence of each spread in this run alone (G), for learning"""
    fits: bool = True
    """whether the bounds fit any fire at all; if not, this is what was believed before them"""


def posterior(
    grid: TemperatureGrid,
    shared: Shared,
    segments: tuple[Segment, ...],
    bounds: tuple[ReadingBound, ...],
    draught: Array,
) -> Posterior:
    """Laplace's Gaussian for each spread, weighed by evidence. Deterministic.

    Cached: a report that is not a pressure seldom changes anything here.
    """
    cells = grid.edges_k.tobytes(), grid.heat_j.tobytes()
    return _fitted(shared, *cells, segments, bounds, draught.tobytes())


@lru_cache(maxsize=16)
def _fitted(
    shared: Shared, edges_k: bytes, heat_j: bytes, segments: tuple[Segment, ...],
    bounds: tuple[ReadingBound, ...], draught: bytes,
) -> Posterior:  # fmt: skip
    grid = TemperatureGrid(np.frombuffer(edges_k), np.frombuffer(heat_j))
    size = CELLS + 1 + len(segments)
    typical, typical_covariance, _ = shared.run_prior(np.frombuffer(draught))
    rise_s = typical_rise_s(grid, typical)
    mean = np.zeros((len(SPREADS), size))
    mean[:, CELLS + 1 :] = [s.about_s for s in segments]
    prior = np.zeros((len(SPREADS), size, size))
    for g, spread in enumerate(SPREADS):
        mean[g, : CELLS + 1] = run_mean(typical, spread)
        prior[g, : CELLS + 1, : CELLS + 1] = typical_covariance + run_covariance(spread, rise_s)
    starts = np.arange(CELLS + 1, size)
    prior[:, starts, starts] = [s.spread_s**2 for s in segments]
    prior += 1e-9 * np.eye(size)
    weight = np.exp(shared.logs - shared.logs.max())
    before = Posterior(
        grid, segments, weight / weight.sum(), mean, prior, np.zeros(len(SPREADS)), not bounds
    )
    if not bounds:
        return before
    precision = np.asarray(np.linalg.inv(prior), dtype=float)
    fit = _Fit(grid, segments, bounds, mean, precision)
    log_determinant = np.linalg.slogdet(precision)[1]
    while True:
        with np.errstate(over="ignore", invalid="ignore"):  # looked for just below
            mode, curvature, value = fit.maximum(mean)
        if not (np.isfinite(value).all() and np.isfinite(curvature).all()):
            return before
        logs = value + 0.5 * (log_determinant - np.linalg.slogdet(curvature)[1])
        if not fit.accept_outlier_pairs(mode[int(np.argmax(shared.logs + logs))]):
            break
    covariance = np.asarray(np.linalg.inv(curvature), dtype=float)
    total_logs = shared.logs + logs
    weight = np.exp(total_logs - total_logs.max())
    return Posterior(grid, segments, weight / weight.sum(), mode, covariance, logs)


Expansion = tuple[Array, Array, Array]  # value (G), gradient (G, D), positive curvature (G, D, D)


def _newton_ascent(expand: Callable[[Array], Expansion], start: Array, enough: float) -> Expansion:
    """Newton steps on all spreads at once, each shortened until the value does not fall.

    enough: a gain in log probability below which no further step is taken.

    Returns where they end, and the curvature and value there.
    """
    z = start
    value, gradient, curvature = expand(z)
    for _ in range(25):
        step = np.linalg.solve(curvature, gradient[..., None])[..., 0]
        length = np.abs(step[:, : CELLS + 1]).max(axis=1)
        step *= np.minimum(1.0, 1.0 / np.maximum(length, 1e-12))[:, None]
        expected_gain = (gradient * step).sum(axis=1)
        step[expected_gain < enough] = 0.0
        if np.all(expected_gain < enough):
            break
        for _ in range(4):
            new = expand(z + step)
            worse = new[0] < value - 1e-9
            if not worse.any():
                break
            step[worse] /= 4.0
        if worse.any():
            step[worse] = 0.0
            new = expand(z + step)
        gain = new[0] - value
        z = z + step
        value, gradient, curvature = new
        if np.all(gain < enough):
            break
    return z, curvature, value


class _Fit:
    """Log posterior, its gradient and a positive curvature, for all spreads at once.

    The ends of the bounds are in one array, the earlier (low) ones first: (2n, D).
    """

    def __init__(
        self,
        grid: TemperatureGrid,
        segments: tuple[Segment, ...],
        bounds: tuple[ReadingBound, ...],
        mean: Array,
        precision: Array,
    ) -> None:
        self.mean, self.precision = mean, precision
        columns = np.array([(b.at_s, b.low, b.high, b.slack, b.outlier) for b in bounds])
        self.at_s, low, high, slack, outlier = columns.T
        self._set_outlier_chance(outlier)
        segment = np.array([b.segment for b in bounds])
        starts = np.array([s.start for s in segments])[segment]
        from_lighting = np.array([s.from_lighting for s in segments], dtype=float)[segment]
        origin = np.eye(len(segments))[segment]
        heat_j = [_overlap(starts, end) * grid.heat_j for end in (low, high)]  # (n, K)
        self.moved = heat_j[0].sum(axis=1) > 0.0
        self.at_rest = (low <= 0.0) & (from_lighting > 0.0)  # a needle at rest has no lower bound
        self.design = np.concatenate(
            [np.concatenate([from_lighting[:, None], joules, origin], axis=1) for joules in heat_j]
        )
        self.cell = 1 + np.clip(((low + high) / 2.0).astype(int), 0, CELLS - 1)
        self.smear_j = slack * grid.heat_j[self.cell - 1]
        self.both_at_s = np.tile(self.at_s, 2)
        self.any_at_rest = bool(self.at_rest.any())

    def times(self, z: Array) -> tuple[Array, Array, Array]:
        """How far each end lies before its reading, in smears (G, 2n); the smears [s] (G, n); and
        the derivatives of the times (G, 2n, D)."""
        seconds = np.ones(z.shape)
        logs = np.minimum(np.maximum(z[:, : CELLS + 1], -60.0), 25.0)
        np.exp(logs, out=seconds[:, : CELLS + 1])
        smear = self.smear_j * seconds[:, self.cell] + CALL_SMEAR_S
        slopes = self.design * seconds[:, None, :]
        durations = z.copy()
        durations[:, : CELLS + 1] = seconds[:, : CELLS + 1]
        ends = self.both_at_s - durations @ self.design.T
        ends /= np.concatenate([smear, smear], axis=1)
        if self.any_at_rest:
            ends[:, : len(self.at_s)][:, self.at_rest] = FAR_SMEARS
        return ends, smear, slopes

    def maximum(self, start: Array) -> Expansion:
        """Where the log posterior is highest, and its curvature and value there."""
        near = _newton_ascent(self.huber_posterior, start, 1.0)[0]
        return _newton_ascent(self.log_posterior, near, 1e-2)

    def accept_outlier_pairs(self, z: Array) -> bool:
        """Hold two readings in a row that this fit (D) takes for outliers to be right; whether
        there were any.

        One may be an outlier. Two mean that fire, water or metal are not as the file has them.
        """
        inlier = self.bound_logs(self.times(z[None])[0])[0][0]
        out = self.moved & (self.outlier > 0.0) & (inlier < 0.5)
        pairs = out & (np.append(out[1:], False) | np.append(False, out[:-1]))
        self._set_outlier_chance(np.where(pairs, 0.0, self.outlier))
        return bool(pairs.any())

    def _set_outlier_chance(self, chance: Array) -> None:
        """The chance of each bound that it is an outlier."""
        self.outlier, self.log_inlier = chance, np.log1p(-chance)
        with np.errstate(divide="ignore"):
            self.log_outlier = np.log(0.1 * chance)

    def bound_logs(self, ends: Array) -> tuple[Array, Array, Array]:
        """For each bound (G, n): probability that it is no outlier, its log likelihood, and the
        log probability of its interval."""
        inside = log_between(ends[:, len(self.at_s) :], ends[:, : len(self.at_s)])
        inlier = self.log_inlier + inside
        likelihood = np.logaddexp(inlier, self.log_outlier)
        return np.exp(inlier - likelihood), likelihood, inside

    def log_prior(self, z: Array) -> tuple[Array, Array]:
        """Log prior: value and gradient."""
        off = z - self.mean
        pull = (self.precision @ off[..., None])[..., 0]
        return -0.5 * (off * pull).sum(1), -pull

    def huber_posterior(self, z: Array) -> Expansion:
        """Log posterior with a Huber loss outside each interval: it leads from any start to where
        `log_posterior` has a slope.

        Bounds that cannot be outliers keep the full quadratic loss.
        """
        count = len(self.at_s)
        ends, smear, slopes = self.times(z)
        before, after = -ends[:, :count], ends[:, count:]
        off = np.maximum(np.maximum(before, after), 0.0)
        along = np.where((before > 0.0)[..., None], -slopes[:, :count], slopes[:, count:])
        share = np.where(self.outlier > 0.0, HUBER_LIMIT / np.maximum(off, HUBER_LIMIT), 1.0)
        value, gradient = self.log_prior(z)
        value -= np.sum(share * off**2 * (1.0 - 0.5 * share), axis=1)
        gradient += ((share * off / smear)[:, None, :] @ along)[:, 0]
        weight = share * (off > 0.0) / smear**2
        curvature = np.swapaxes(along * weight[..., None], 1, 2) @ along
        return value, gradient, self.precision + curvature

    def log_posterior(self, z: Array) -> Expansion:
        """The log posterior: each reading is a smeared interval, or an outlier."""
        ends, smear, slopes = self.times(z)
        inlier, likelihood, inside = self.bound_logs(ends)
        count = len(self.at_s)
        a, b = ends[:, :count], ends[:, count:]
        density = density_over(ends, np.concatenate([inside, inside], axis=1))
        da, db = density[:, :count], density[:, count:]
        value, gradient = self.log_prior(z)
        value += likelihood.sum(1)
        pull = inlier / smear
        gradient += (np.concatenate([-pull * da, pull * db], axis=1)[:, None, :] @ slopes)[:, 0]
        weight = (inlier / smear**2)[..., None]
        early, late = slopes[:, :count], slopes[:, count:]
        cross = weight * (-da * db)[..., None]
        bent = np.empty(slopes.shape)
        bent[:, :count] = weight * (da * (a + da))[..., None] * early + cross * late
        bent[:, count:] = weight * (db * (db - b))[..., None] * late + cross * early
        return value, gradient, self.precision + np.swapaxes(slopes, 1, 2) @ bent


def _overlap(start: Array, end: Array) -> Array:
    """How much of each cell lies between start and end, (n, CELLS)."""
    left = np.arange(CELLS)[None, :]
    below = np.clip(end[:, None] - left, 0.0, 1.0) - np.clip(start[:, None] - left, 0.0, 1.0)
    return np.maximum(below, 0.0)
