"""How fast the water takes up heat, as a function of how hot it is: prior, and Gaussian posterior.

The way from cold to hot is cut into cells of temperature; the unknowns are log(seconds per joule)
in each, and the log of the delay from lighting until heat reaches the water. A reading says how
long a run of cells took together. Knows no clock, no words and no water level.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from assistant.boiler.draught import Habit
from assistant.boiler.figures import Engine
from assistant.boiler.scales import PSI_PA
from assistant.boiler.steam import saturation_pressure_abs_pa
from assistant.boiler.vessel import boiling_k, energy_curve_j, vessel_of

Array = NDArray[np.float64]

CELLS = 24
COLD_K = 285.15  # feed and a cold boiler: 12 C, common practice, no source


@dataclass(frozen=True, eq=False)
class Ladder:
    """The cells: their edges [K] and the heat each takes [J]; positions count from cold."""

    edges_k: Array
    heat_j: Array

    def position(self, temperature_k: float) -> float:
        """Where a temperature lies, in cells from cold; held to the ladder."""
        return float(np.interp(temperature_k, self.edges_k, np.arange(len(self.edges_k))))

    def temperature_k(self, position: float) -> float:
        """The temperature [K] at a position."""
        return float(np.interp(position, np.arange(len(self.edges_k)), self.edges_k))


def edges_k(engine: Engine) -> Array:
    """The edges of the cells [K], from cold to above the valve's lift."""
    lift, dial = engine.valve_lifts_gauge_pa, engine.dial_top_gauge_pa
    top = boiling_k(1.15 * max(lift, 0.7 * dial), engine.atmosphere_pa)
    edges: Array = np.linspace(COLD_K, top, CELLS + 1)
    return edges


def ladder(engine: Engine, water_kg: float | Array) -> Ladder:
    """Cells with the heat they take. water_kg: one figure, or what was inside at each edge [kg].

    Where the water grew between two edges, that much feed was warmed as well.
    """
    edges = edges_k(engine)
    kg = np.broadcast_to(np.asarray(water_kg, dtype=float), edges.shape)
    mean_kg = (kg[1:] + kg[:-1]) / 2.0
    vessel = vessel_of(engine)
    low = energy_curve_j(vessel, mean_kg, edges[:-1])
    heat = energy_curve_j(vessel, mean_kg, edges[1:]) - low
    heat += np.maximum(np.diff(kg), 0.0) * 4200.0 * (edges[1:] - COLD_K)
    return Ladder(edges, np.asarray(heat, dtype=float))


def usual_rate_w(engine: Engine, ladder_: Ladder) -> float:
    """A first guess of the net heat to the water [W], averaged over a steam-up.

    From the file's full-fire rate where given, of which a little over half arrives on the average.
    Else from what such engines take from cold: half an hour for 10 MJ, longer as the 0.42th power
    of the heat (a small copper boiler 20-45 min, full size 2.5-5 h). Common practice, no source.
    """
    total = float(ladder_.heat_j.sum())
    usual_s = 1800.0 * (total / 10e6) ** 0.42
    if engine.fire_rate_w is None:
        return float(total / usual_s)
    told_w = AVERAGE * engine.fire_rate_w
    return float(told_w**0.75 * (total / usual_s) ** 0.25)


@dataclass(frozen=True, eq=False)
class Shared:
    """What all steam-ups of an engine have in common.

    mean, covariance: of delay, cells without blower, and what full draught changes (CELLS + 2).
    logs: for each of `SPREADS`, the log of how well it explained the earlier runs.
    """

    mean: Array
    covariance: Array
    habit: Habit
    runs: int = 0
    logs: Array = field(default_factory=lambda: np.zeros(4))

    def seen_through(self, draught: Array) -> tuple[Array, Array, Array]:
        """Mean and covariance of a run's unknowns (CELLS + 1) blown so, and the design between."""
        design = np.eye(CELLS + 1, CELLS + 2)
        design[1:, -1] = draught
        return design @ self.mean, design @ self.covariance @ design.T, design


@dataclass(frozen=True, slots=True)
class Spread:
    """How much one run differs from the engine's usual: standard deviations of logs."""

    offset: float
    tilt: float
    wander: float  # the mean-reverting part
    reach_s: float  # how long it lasts, at the usual pace [s]
    delay: float


SPREADS = (
    Spread(0.07, 0.06, 0.07, 600.0, 0.25),
    Spread(0.14, 0.10, 0.15, 600.0, 0.40),
    Spread(0.24, 0.16, 0.25, 600.0, 0.50),
    Spread(0.20, 0.15, 0.38, 1500.0, 0.60),
)


def first_shared(engine: Engine, ladder_: Ladder) -> Shared:
    """The prior before any log: level by `usual_rate_w`, a smooth profile, a delay.

    The fire is slow at first and quicker once the blower draws, above 15-20 psi (Stephenson 1903);
    by how much is common practice, no source, and left wide.
    """
    slow = math.log(1.0 / usual_rate_w(engine, ladder_))
    x = _middles()
    level = LEVEL if engine.fire_rate_w is not None else 1.1 * LEVEL
    covariance = np.zeros((CELLS + 2, CELLS + 2))
    lag = np.abs(x[:, None] - x[None, :])
    bend = BEND**2 * np.exp(-0.5 * (lag / 0.35) ** 2) + ROUGH**2 * np.exp(-lag / 0.1)
    covariance[1:-1, 1:-1] = level**2 + bend
    covariance[0, 0], covariance[-1, -1] = 0.8**2, BLOWN_SD**2
    total_s = float(ladder_.heat_j.sum()) * math.exp(slow)
    mean = np.concatenate([[math.log(0.07 * total_s)], slow + HUMP * np.exp(-x / 0.12), [BLOWN]])
    return Shared(mean, covariance, Habit(_blown(engine, ladder_)))


AVERAGE = 0.55
ROUGH = 0.17
LEVEL, BEND, HUMP, BLOWN, BLOWN_SD = 0.37, 0.15, 0.15, -0.28, 0.20


def _blown(engine: Engine, ladder_: Ladder) -> Array:
    """How far the blower is open, as a rule, at each cell: from nothing at 5 psi to all at 50."""
    middle_k = (ladder_.edges_k[:-1] + ladder_.edges_k[1:]) / 2.0
    gauge_psi = (saturation_pressure_abs_pa(middle_k) - engine.atmosphere_pa) / PSI_PA
    opened: Array = np.clip((gauge_psi - 5.0) / 45.0, 0.0, 1.0) ** 0.5
    return opened


def usual_s(ladder_: Ladder, usual: Array) -> float:
    """How long the whole way takes at the usual pace [s]. usual: the mean of the log unknowns."""
    return float(np.sum(np.exp(usual[1 : CELLS + 1]) * ladder_.heat_j))


def run_mean(usual: Array, spread: Spread) -> Array:
    """Mean of one run's log unknowns: times of many cells add up, so their mean is the usual.

    The exponential of a wandering log is larger on the average than at its middle, by half its
    variance.
    """
    mean = usual.copy()
    mean[1:] -= 0.5 * spread.wander**2
    return mean


def run_covariance(spread: Spread, way_s: float) -> Array:
    """Covariance of one run's own part of the log unknowns. way_s: `usual_s`."""
    x = _middles()
    own = np.zeros((CELLS + 1, CELLS + 1))
    lag = np.abs(x[:, None] - x[None, :])
    own[1:, 1:] = (
        spread.offset**2
        + spread.tilt**2 * np.outer(x - 0.5, x - 0.5) * 4.0
        + spread.wander**2 * np.exp(-lag * way_s / spread.reach_s)
    )
    own[0, 0] = spread.delay**2
    return own


def _middles() -> Array:
    middles: Array = (np.arange(CELLS) + 0.5) / CELLS
    return middles


# --- readings as bounds on times -----------------------------------------------------------------


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
