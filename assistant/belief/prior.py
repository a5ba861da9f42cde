"""The prior of an engine's fire and how alike its runs are: log(seconds per joule) by cell.

The unknowns are the log of the delay from lighting until heat reaches the water, and the log of
the slowness in each cell of the grid. Knows no reading.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from assistant.belief.bands import Array
from assistant.belief.draught import TypicalDraught
from assistant.belief.temperature_grid import CELLS, TemperatureGrid
from assistant.boiler.figures import Engine
from assistant.boiler.scales import PSI_PA
from assistant.boiler.steam import saturation_pressure_abs_pa
from assistant.boiler.vessel import boiling_k

# Fitted to simulated steam-ups held out from every test and bench; results are flat about them.
AVERAGE_SHARE = 0.61  # heat averaged over a steam-up, as a part of the full fire's
LEVEL_SD = 0.35  # standard deviations of the log slowness: of its level,
BEND_SD = 0.15  # of its smooth shape,
ROUGH_SD = 0.17  # and from cell to cell
START_SLOWNESS = 0.15  # log slowness that the first cells have more
# Log slowness that full draught takes away, and its standard deviation: the damper alone makes 0.55
# of it (`draught.DAMPER_ALONE`), and heat follows draught as about its 0.62th power.
DRAUGHT_EFFECT, DRAUGHT_EFFECT_SD = -0.37, 0.20
DELAY_SHARE = 0.07  # from lighting until heat reaches the water, of the whole time
# The owner's "45 min to 100 psi" holds within a fifth on most days; a figure that the file only
# guesses is off by a third. Judgement.
USUAL_SD, GUESSED_SD = 0.20, 0.35
MEDIAN_SHARE = 0.925  # the median over runs, of the typical time; the same on all shipped engines


def typical_rate_w(engine: Engine, grid: TemperatureGrid) -> float:
    """A first guess of the net heat to the water [W], averaged over a steam-up.

    From the file's full-fire rate where given, of which a little over half arrives on average.
    Otherwise 42 minutes for 10 MJ, longer as the cube root of the heat, since the fire's heat goes
    through a surface and warms a volume (a small copper boiler 20-45 min, full size 2.5-5 h).
    Common practice, no source.
    """
    total = float(grid.heat_j.sum())
    typical_rise_s = 2530.0 * (total / 10e6) ** (1.0 / 3.0)
    if engine.fire_rate_w is None:
        return float(total / typical_rise_s)
    average_w = AVERAGE_SHARE * engine.fire_rate_w
    return float(average_w**0.75 * (total / typical_rise_s) ** 0.25)


@dataclass(frozen=True, eq=False)
class Shared:
    """What all steam-ups of an engine have in common.

    The shared unknowns (CELLS + 2): log delay, log slowness of each cell without the blower, and
    what full draught changes.
    """

    mean: Array
    """of the shared unknowns (CELLS + 2)"""
    covariance: Array
    """of the shared unknowns (CELLS + 2, CELLS + 2)"""
    typical_draught: TypicalDraught
    """how hard the fire is usually blown"""
    runs: int = 0
    """how many earlier runs it was learned from"""
    logs: Array = field(default_factory=lambda: np.zeros(4))
    """for each of `SPREADS`, its log evidence in the earlier runs (G)"""

    def run_prior(self, draught: Array) -> tuple[Array, Array, Array]:
        """Mean and covariance of a run's unknowns (CELLS + 1) at a draught, and the design matrix
        from the shared unknowns to them."""
        design = np.eye(CELLS + 1, CELLS + 2)
        design[1:, -1] = draught
        return design @ self.mean, design @ self.covariance @ design.T, design


@dataclass(frozen=True, slots=True)
class Spread:
    """How much one run differs from what is typical of the engine: standard deviations of logs."""

    offset: float
    """of the level"""
    tilt: float
    """of the slope from cold to hot"""
    wander: float
    """of the mean-reverting part"""
    reach_s: float
    """correlation time of the mean-reverting part [s]"""
    delay: float
    """of the delay"""


SPREADS = (
    Spread(0.07, 0.06, 0.07, 900.0, 0.25),
    Spread(0.14, 0.10, 0.15, 900.0, 0.40),
    Spread(0.24, 0.16, 0.25, 900.0, 0.50),
    Spread(0.20, 0.15, 0.38, 2250.0, 0.60),
)


def first_shared(engine: Engine, grid: TemperatureGrid) -> Shared:
    """The prior before any log: level by `typical_rate_w`, a smooth profile, a delay.

    The fire is slow at first and quicker once the blower draws, above 15-20 psi (Stephenson 1903);
    by how much is common practice, no source, and left wide.
    """
    opening, x = _typical_opening(engine, grid), _middles()
    slow = math.log(1.0 / typical_rate_w(engine, grid))
    if engine.usual is not None:
        slow += math.log(engine.usual.seconds / _median_s(engine, grid, slow, opening))
    covariance = np.zeros((CELLS + 2, CELLS + 2))
    lag = np.abs(x[:, None] - x[None, :])
    bend = BEND_SD**2 * np.exp(-0.5 * (lag / 0.35) ** 2) + ROUGH_SD**2 * np.exp(-lag / 0.1)
    covariance[1:-1, 1:-1] = _level_sd(engine) ** 2 + bend
    covariance[0, 0], covariance[-1, -1] = 0.8**2, DRAUGHT_EFFECT_SD**2
    total_s = float(grid.heat_j.sum()) * math.exp(slow)
    cells = slow + START_SLOWNESS * np.exp(-x / 0.12)
    mean = np.concatenate([[math.log(DELAY_SHARE * total_s)], cells, [DRAUGHT_EFFECT]])
    return Shared(mean, covariance, TypicalDraught(opening))


def _level_sd(engine: Engine) -> float:
    """Standard deviation of the level of the log slowness, before any run."""
    known = LEVEL_SD if engine.fire_rate_w is not None else 1.1 * LEVEL_SD
    heat_guessed = not engine.guessed.isdisjoint(("metal", "water", "rate"))
    if engine.usual is not None:
        return USUAL_SD  # a time takes in what metal and water it heats
    return math.hypot(known, GUESSED_SD) if heat_guessed else known


def _median_s(engine: Engine, grid: TemperatureGrid, slow: float, opening: Array) -> float:
    """From lighting to the pressure of the owner's word [s], at a log slowness."""
    assert engine.usual is not None
    hot_k = boiling_k(engine.usual.gauge_pa, engine.atmosphere_pa)
    width_k = np.diff(grid.edges_k)
    part = np.clip((hot_k - grid.edges_k[:-1]) / width_k, 0.0, 1.0)
    cells = slow + START_SLOWNESS * np.exp(-_middles() / 0.12) + DRAUGHT_EFFECT * opening
    delay_s = DELAY_SHARE * float(grid.heat_j.sum()) * math.exp(slow)
    return MEDIAN_SHARE * (delay_s + float(np.sum(np.exp(cells) * grid.heat_j * part)))


def _typical_opening(engine: Engine, grid: TemperatureGrid) -> Array:
    """How far the blower is usually open in each cell: shut at 5 psi, fully open at 50."""
    middle_k = (grid.edges_k[:-1] + grid.edges_k[1:]) / 2.0
    gauge_psi = (saturation_pressure_abs_pa(middle_k) - engine.atmosphere_pa) / PSI_PA
    opening: Array = np.clip((gauge_psi - 5.0) / 45.0, 0.0, 1.0) ** 0.5
    return opening


def typical_rise_s(grid: TemperatureGrid, typical: Array) -> float:
    """Time through all cells at the typical pace [s]. typical: mean of the log unknowns."""
    return float(np.sum(np.exp(typical[1 : CELLS + 1]) * grid.heat_j))


def run_mean(typical: Array, spread: Spread) -> Array:
    """Mean of one run's log unknowns, such that the mean time of a cell is the typical one.

    The mean of a log-normal lies above its median by half the variance of the log.
    """
    mean = typical.copy()
    mean[1:] -= 0.5 * spread.wander**2
    return mean


def run_covariance(spread: Spread, rise_s: float) -> Array:
    """Covariance of one run's departure from the typical. rise_s: `typical_rise_s`."""
    x = _middles()
    covariance = np.zeros((CELLS + 1, CELLS + 1))
    lag = np.abs(x[:, None] - x[None, :])
    covariance[1:, 1:] = (
        spread.offset**2
        + spread.tilt**2 * np.outer(x - 0.5, x - 0.5) * 4.0
        + spread.wander**2 * np.exp(-lag * rise_s / spread.reach_s)
    )
    covariance[0, 0] = spread.delay**2
    return covariance


def _middles() -> Array:
    middles: Array = (np.arange(CELLS) + 0.5) / CELLS
    return middles
