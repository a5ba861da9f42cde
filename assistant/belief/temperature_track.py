"""The water's temperature over time, linear between the pressures; which of them to trust."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from assistant.belief.bands import Array
from assistant.belief.history import History, Pressure
from assistant.belief.prior import typical_rate_w
from assistant.belief.temperature_grid import COLD_K, TemperatureGrid
from assistant.boiler.figures import Engine
from assistant.boiler.scales import PSI_PA
from assistant.boiler.vessel import boiling_k

REST_K = 372.0  # the most the water may be while the needle rests and nothing was called
EXTRAPOLATION_S = 900.0  # how long the last slope is followed beyond the last reading
FASTEST = 5.0  # times the engine's typical heat rate; no fire exceeds it

# What takes pressure or lets the fire down.
FALL_CAUSES = frozenset(
    {
        ("feed", "on"),
        ("regulator", "open"),
        ("drains", "open"),
        ("valve", "lifting"),
        ("fire", "drawn"),
        ("fire", "banked"),
        ("damper", "shut"),
    }
)


@dataclass(frozen=True, eq=False)
class TemperatureTrack:
    """Temperatures at times, and how they go on after the last."""

    time_s: Array
    """rising [s]"""
    kelvin: Array
    """the temperature at each time [K]"""
    after_k_per_s: float = 0.0
    """slope after the last [K/s]"""
    hottest_k: float = math.inf
    """where that slope ends [K]"""

    def at(self, at_s: float) -> float:
        """The temperature at a time [K]; by the last slope for a quarter of an hour at most."""
        if at_s <= self.time_s[-1]:
            return float(np.interp(at_s, self.time_s, self.kelvin))
        ahead_s = min(at_s - float(self.time_s[-1]), EXTRAPOLATION_S)
        last = float(self.kelvin[-1])
        return max(min(last + ahead_s * self.after_k_per_s, max(self.hottest_k, last)), COLD_K)

    def along(self, times_s: Array) -> Array:
        """The temperature at each of some times [K]."""
        kelvin = np.interp(times_s, self.time_s, self.kelvin)
        for i in np.flatnonzero(times_s > self.time_s[-1]):
            kelvin[i] = self.at(float(times_s[i]))
        return kelvin


def track_of(
    engine: Engine, history: History, grid: TemperatureGrid, accepted: tuple[Pressure, ...]
) -> TemperatureTrack:
    """The track of one run, from the lighting or the first pressure on.

    accepted: of `screened_pressures`.
    """
    times = [p.at_s for p in accepted]
    kelvin = [_kelvin(engine, p) for p in accepted]
    lit_s = history.lit_s
    if lit_s is not None and (not times or lit_s < times[0]):
        times, kelvin = [lit_s, *times], [COLD_K, *kelvin]
    if not times:
        return TemperatureTrack(np.array([0.0]), np.array([COLD_K]))
    if not accepted:
        slope = typical_rate_w(engine, grid) / _j_per_k(grid)
    elif len(times) > 1:
        back = max((i for i in range(len(times)) if times[-1] - times[i] >= 240.0), default=0)
        slope = (kelvin[-1] - kelvin[back]) / max(times[-1] - times[back], 60.0)
    else:
        slope = 0.0
    at_rest = all(p.gauge_pa < PSI_PA for p in accepted)
    top = REST_K if at_rest else boiling_k(engine.valve_lifts_gauge_pa, engine.atmosphere_pa)
    return TemperatureTrack(np.array(times), np.array(kelvin), slope, top)


def _kelvin(engine: Engine, pressure: Pressure) -> float:
    """Boiling by the gauge; for a needle at rest, which only says that it does not boil, half way
    from cold to boiling."""
    boiling = boiling_k(max(pressure.gauge_pa, 0.0), engine.atmosphere_pa)
    return (COLD_K + boiling) / 2.0 if pressure.gauge_pa < 0.5 * PSI_PA else boiling


def _j_per_k(grid: TemperatureGrid) -> float:
    """Mean heat capacity from cold to hot [J/K]."""
    return float(grid.heat_j.sum() / (grid.edges_k[-1] - grid.edges_k[0]))


@dataclass(frozen=True, slots=True)
class ScreenedPressures:
    """The pressures of a run, sorted by whether to trust them."""

    accepted: tuple[Pressure, ...]
    """those trusted, in order of time"""
    doubted: tuple[Pressure, ...]
    """those left out"""
    jumps: tuple[Pressure, ...]
    """those accepted although nothing explains the step to them"""


def screened_pressures(
    engine: Engine, history: History, grid: TemperatureGrid
) -> ScreenedPressures:
    """Which pressures to trust.

    A reading that no fire could reach, or a fall that nothing reported explains, waits for a second
    one that agrees with it; a lone one is left out.
    """
    step_pa = history.step_pa
    typical_w = typical_rate_w(engine, grid)
    accepted: list[Pressure] = []
    doubted: list[Pressure] = []
    jumps: list[Pressure] = []
    for pressure in history.pressures:
        last = accepted[-1] if accepted else None
        waiting = doubted[-1] if last and doubted and doubted[-1].at_s > last.at_s else None
        if (
            last
            and waiting
            and abs(pressure.gauge_pa - waiting.gauge_pa) < abs(pressure.gauge_pa - last.gauge_pa)
            and _can_follow(engine, history, grid, waiting, pressure, step_pa, typical_w)
        ):
            doubted.pop()
            accepted += [waiting, pressure]
            jumps.append(waiting)
        elif _last_is_high_outlier(engine, accepted, pressure, step_pa):
            doubted.append(accepted.pop())
            accepted.append(pressure)
        elif not last or _can_follow(engine, history, grid, last, pressure, step_pa, typical_w):
            accepted.append(pressure)
        else:
            doubted.append(pressure)
    spikes = _spikes(history, accepted, step_pa)
    left_out = sorted([*doubted, *spikes], key=lambda pressure: pressure.at_s)
    without_spikes = tuple(p for p in accepted if p not in spikes)
    return ScreenedPressures(without_spikes, tuple(left_out), tuple(jumps))


def on_one_line(
    engine: Engine, before: Pressure, now: Pressure, after: Pressure, step_pa: float
) -> bool:
    """Whether three readings rise or stay on one line of temperature, at whatever rate."""
    in_order = before.gauge_pa <= now.gauge_pa <= after.gauge_pa
    if not in_order or after.at_s <= before.at_s:
        return False
    low, middle, high = (boiling_k(p.gauge_pa, engine.atmosphere_pa) for p in (before, now, after))
    part = (now.at_s - before.at_s) / (after.at_s - before.at_s)
    rounding_k = boiling_k(now.gauge_pa + 0.6 * step_pa, engine.atmosphere_pa) - middle
    return abs(middle - low - part * (high - low)) <= rounding_k + 0.2 * (high - low)


def _last_is_high_outlier(
    engine: Engine, accepted: list[Pressure], new: Pressure, step_pa: float
) -> bool:
    """Whether the last accepted reading was far above a line that the new one is on."""
    if len(accepted) < 3 or accepted[-1].gauge_pa <= new.gauge_pa + 1.2 * step_pa:
        return False
    *_, first, second, last = accepted
    return on_one_line(engine, first, second, new, step_pa) and not on_one_line(
        engine, first, second, last, step_pa
    )


def _spikes(history: History, accepted: list[Pressure], step_pa: float) -> list[Pressure]:
    """Lone readings off both neighbours, which agree, with nothing reported that explains them."""
    spikes = []
    for before, now, after in zip(accepted, accepted[1:], accepted[2:], strict=False):
        neighbours_agree = after.gauge_pa >= before.gauge_pa - 0.6 * step_pa
        high = now.gauge_pa > max(before.gauge_pa, after.gauge_pa) + 1.2 * step_pa
        low = now.gauge_pa < min(before.gauge_pa, after.gauge_pa) - 1.2 * step_pa
        if neighbours_agree and (high or low) and not fall_is_explained(history, before, after):
            spikes.append(now)
    return spikes


def _can_follow(
    engine: Engine, history: History, grid: TemperatureGrid, before: Pressure, now: Pressure,
    step_pa: float, typical_w: float,
) -> bool:  # fmt: skip
    """Whether a fire, a feed or a draw could take the gauge from one reading to the next."""
    elapsed_s = max(now.at_s - before.at_s, 5.0)
    if now.gauge_pa < before.gauge_pa:
        least_fall = before.gauge_pa - now.gauge_pa - 1.5 * step_pa
        small = least_fall <= 0.1 * before.gauge_pa + 2.0 * PSI_PA
        return small or fall_is_explained(history, before, now) or elapsed_s > 900.0
    low = boiling_k(before.gauge_pa + step_pa / 2.0, engine.atmosphere_pa)
    high = boiling_k(now.gauge_pa - step_pa / 2.0, engine.atmosphere_pa)
    if before.gauge_pa < 0.5 * PSI_PA:  # a needle at rest says nothing of how cold the water is
        return now.gauge_pa < 20.0 * PSI_PA or (high - REST_K) * _j_per_k(grid) < (
            FASTEST * typical_w * (elapsed_s + 60.0)
        )
    return (high - low) * _j_per_k(grid) <= FASTEST * typical_w * (elapsed_s + 20.0)


def fall_is_explained(history: History, before: Pressure, now: Pressure) -> bool:
    """Whether something was reported that takes pressure: feed, steam drawn, a fire let down."""
    if any(history.state(what, now.at_s) == state for what, state in FALL_CAUSES):
        return True
    acts = history.acts.between(before.at_s - 120.0, now.at_s)
    return any((act.what, act.state) in FALL_CAUSES for act in acts)
