"""What is thought of an engine's fire before and after its runs: log(seconds per joule) by cell.

The unknowns are the log of the delay from lighting until heat reaches the water, and the log of
the slowness in each cell of the ladder. Knows no reading.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from assistant.belief.bands import Array
from assistant.belief.draught import Habit
from assistant.belief.temperature_grid import CELLS, TemperatureGrid
from assistant.boiler.figures import Engine
from assistant.boiler.scales import PSI_PA
from assistant.boiler.steam import saturation_pressure_abs_pa

# Averaged heat as a part of the full fire's, and standard deviations of logs: rough, level, bend,
# blower. Found on simulated steam-ups that no test or bench judges by; results are flat about them.
AVERAGE = 0.61
ROUGH = 0.17
LEVEL, BEND, HUMP = 0.35, 0.15, 0.15
# The damper alone makes 0.55 of the full draught (`draught.ALONE`); heat follows draught less than
# in proportion, here as its 0.62th power.
BLOWN, BLOWN_SD = -0.37, 0.20


def usual_rate_w(engine: Engine, grid: TemperatureGrid) -> float:
    """A first guess of the net heat to the water [W], averaged over a steam-up.

    From the file's full-fire rate where given, of which a little over half arrives on average.
    Else from what such engines take from cold: 42 minutes for 10 MJ, longer as the cube root of the
    heat, since the fire's heat goes through a surface and warms a volume (a small copper boiler
    20-45 min, full size 2.5-5 h). Common practice, no source.
    """
    total = float(grid.heat_j.sum())
    usual_s = 2530.0 * (total / 10e6) ** (1.0 / 3.0)
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
    Spread(0.07, 0.06, 0.07, 900.0, 0.25),
    Spread(0.14, 0.10, 0.15, 900.0, 0.40),
    Spread(0.24, 0.16, 0.25, 900.0, 0.50),
    Spread(0.20, 0.15, 0.38, 2250.0, 0.60),
)


def first_shared(engine: Engine, grid: TemperatureGrid) -> Shared:
    """The prior before any log: level by `usual_rate_w`, a smooth profile, a delay.

    The fire is slow at first and quicker once the blower draws, above 15-20 psi (Stephenson 1903);
    by how much is common practice, no source, and left wide.
    """
    slow = math.log(1.0 / usual_rate_w(engine, grid))
    x = _middles()
    level = LEVEL if engine.fire_rate_w is not None else 1.1 * LEVEL
    covariance = np.zeros((CELLS + 2, CELLS + 2))
    lag = np.abs(x[:, None] - x[None, :])
    bend = BEND**2 * np.exp(-0.5 * (lag / 0.35) ** 2) + ROUGH**2 * np.exp(-lag / 0.1)
    covariance[1:-1, 1:-1] = level**2 + bend
    covariance[0, 0], covariance[-1, -1] = 0.8**2, BLOWN_SD**2
    total_s = float(grid.heat_j.sum()) * math.exp(slow)
    mean = np.concatenate([[math.log(0.07 * total_s)], slow + HUMP * np.exp(-x / 0.12), [BLOWN]])
    return Shared(mean, covariance, Habit(_blown(engine, grid)))


def _blown(engine: Engine, grid: TemperatureGrid) -> Array:
    """How far the blower is open, as a rule, at each cell: from nothing at 5 psi to all at 50."""
    middle_k = (grid.edges_k[:-1] + grid.edges_k[1:]) / 2.0
    gauge_psi = (saturation_pressure_abs_pa(middle_k) - engine.atmosphere_pa) / PSI_PA
    opened: Array = np.clip((gauge_psi - 5.0) / 45.0, 0.0, 1.0) ** 0.5
    return opened


def usual_s(grid: TemperatureGrid, usual: Array) -> float:
    """How long the whole way takes at the usual pace [s]. usual: the mean of the log unknowns."""
    return float(np.sum(np.exp(usual[1 : CELLS + 1]) * grid.heat_j))


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
