"""The water's temperature at any time, straight between the pressures called. No belief."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from assistant.belief.bands import Array
from assistant.belief.history import History, Pressure
from assistant.belief.prior import usual_rate_w
from assistant.belief.temperature_grid import COLD_K, TemperatureGrid
from assistant.boiler.figures import Engine
from assistant.boiler.scales import PSI_PA
from assistant.boiler.vessel import boiling_k

STILL_K = 372.0  # as hot as the water may be while the needle rests and nothing was called
ON_S = 900.0  # how long the last slope is followed beyond the last reading


@dataclass(frozen=True, eq=False)
class TemperatureTrack:
    """Temperatures [K] at times [s], rising in time, and the slope after the last [K/s]."""

    time_s: Array
    kelvin: Array
    after_k_per_s: float = 0.0
    hottest_k: float = math.inf

    def at(self, at_s: float) -> float:
        """The temperature at a time [K]; by the last slope for a quarter of an hour at most."""
        if at_s <= self.time_s[-1]:
            return float(np.interp(at_s, self.time_s, self.kelvin))
        on = min(at_s - float(self.time_s[-1]), ON_S)
        last = float(self.kelvin[-1])
        return max(min(last + on * self.after_k_per_s, max(self.hottest_k, last)), COLD_K)

    def along(self, times_s: Array) -> Array:
        """The temperature at each of some times [K]."""
        kelvin = np.interp(times_s, self.time_s, self.kelvin)
        for place in np.flatnonzero(times_s > self.time_s[-1]):
            kelvin[place] = self.at(float(times_s[place]))
        return kelvin


def track_of(
    engine: Engine, history: History, grid: TemperatureGrid, believed: tuple[Pressure, ...]
) -> TemperatureTrack:
    """The track of one run, from the lighting or the first pressure on.

    believed: the pressures that stand (`believed_pressures`).
    """
    times = [p.at_s for p in believed]
    hot = [_kelvin(engine, p) for p in believed]
    lit_s = history.lit_s
    if lit_s is not None and (not times or lit_s < times[0]):
        times, hot = [lit_s, *times], [COLD_K, *hot]
    if not times:
        return TemperatureTrack(np.array([0.0]), np.array([COLD_K]))
    top = boiling_k(engine.valve_lifts_gauge_pa, engine.atmosphere_pa)
    if len(times) > 1:
        back = max((i for i in range(len(times)) if times[-1] - times[i] >= 240.0), default=0)
        slope = (hot[-1] - hot[back]) / max(times[-1] - times[back], 60.0)
    else:
        slope = usual_rate_w(engine, grid) / _j_per_k(grid) if believed == () else 0.0
        top = STILL_K if believed == () else top
    if believed and all(p.gauge_pa < PSI_PA for p in believed):
        top = STILL_K
    if not believed:
        return TemperatureTrack(np.array(times), np.array(hot), slope, STILL_K)
    return TemperatureTrack(np.array(times), np.array(hot), slope, top)


def _kelvin(engine: Engine, pressure: Pressure) -> float:
    """Boiling at the gauge; a needle at rest says only that it does not boil: half way there."""
    boiling = boiling_k(max(pressure.gauge_pa, 0.0), engine.atmosphere_pa)
    return (COLD_K + boiling) / 2.0 if pressure.gauge_pa < 0.5 * PSI_PA else boiling


def _j_per_k(grid: TemperatureGrid) -> float:
    return float(grid.heat_j.sum() / (grid.edges_k[-1] - grid.edges_k[0]))


@dataclass(frozen=True, slots=True)
class StandingPressures:
    """The pressures that stand, those left out, and those that stand though nothing explains."""

    stand: tuple[Pressure, ...]
    doubted: tuple[Pressure, ...]
    jumps: tuple[Pressure, ...]


def believed_pressures(
    engine: Engine, history: History, grid: TemperatureGrid
) -> StandingPressures:
    """Which pressures stand.

    A reading that no fire could reach, or a fall that nothing reported explains, waits for a second
    one that agrees with it; a lone one is left out.
    """
    step_pa = history.step_pa
    usual = usual_rate_w(engine, grid)
    kept: list[Pressure] = []
    doubted: list[Pressure] = []
    jumps: list[Pressure] = []
    for pressure in history.pressures:
        last = kept[-1] if kept else None
        waiting = doubted[-1] if last and doubted and doubted[-1].at_s > last.at_s else None
        if (
            last
            and waiting
            and abs(pressure.gauge_pa - waiting.gauge_pa) < abs(pressure.gauge_pa - last.gauge_pa)
            and _follows(engine, history, grid, waiting, pressure, step_pa, usual)
        ):
            doubted.pop()
            kept += [waiting, pressure]
            jumps.append(waiting)
        elif _strayed(engine, kept, pressure, step_pa):
            doubted.append(kept.pop())
            kept.append(pressure)
        elif not last or _follows(engine, history, grid, last, pressure, step_pa, usual):
            kept.append(pressure)
        else:
            doubted.append(pressure)
    spikes = _spikes(history, kept, step_pa)
    left_out = sorted([*doubted, *spikes], key=lambda pressure: pressure.at_s)
    stand = tuple(p for p in kept if p not in spikes)
    return StandingPressures(stand, tuple(left_out), tuple(jumps))


def in_line(
    engine: Engine, before: Pressure, now: Pressure, after: Pressure, step_pa: float
) -> bool:
    """Whether three readings rise or stay in one line of temperature, whatever the fire."""
    risen = before.gauge_pa <= now.gauge_pa <= after.gauge_pa
    if not risen or after.at_s <= before.at_s:
        return False
    low, middle, high = (boiling_k(p.gauge_pa, engine.atmosphere_pa) for p in (before, now, after))
    part = (now.at_s - before.at_s) / (after.at_s - before.at_s)
    rounding_k = boiling_k(now.gauge_pa + 0.6 * step_pa, engine.atmosphere_pa) - middle
    return abs(middle - low - part * (high - low)) <= rounding_k + 0.2 * (high - low)


def _strayed(engine: Engine, kept: list[Pressure], now: Pressure, step_pa: float) -> bool:
    """Whether the newest reading but one stood far above a line that this one is in."""
    if len(kept) < 3 or kept[-1].gauge_pa <= now.gauge_pa + 1.2 * step_pa:
        return False
    *_, first, second, last = kept
    return in_line(engine, first, second, now, step_pa) and not in_line(
        engine, first, second, last, step_pa
    )


def _spikes(history: History, kept: list[Pressure], step_pa: float) -> list[Pressure]:
    """Lone readings out of line with both neighbours, which agree, and nothing reported for it."""
    spikes = []
    for before, now, after in zip(kept, kept[1:], kept[2:], strict=False):
        rises_on = after.gauge_pa >= before.gauge_pa - 0.6 * step_pa
        high = now.gauge_pa > max(before.gauge_pa, after.gauge_pa) + 1.2 * step_pa
        low = now.gauge_pa < min(before.gauge_pa, after.gauge_pa) - 1.2 * step_pa
        if rises_on and (high or low) and not may_fall(history, before, after):
            spikes.append(now)
    return spikes


def _follows(
    engine: Engine, history: History, grid: TemperatureGrid, before: Pressure, now: Pressure,
    step_pa: float, usual_w: float,
) -> bool:  # fmt: skip
    """Whether a fire, a feed or a draw could take the gauge from one reading to the next."""
    passed_s = max(now.at_s - before.at_s, 5.0)
    if now.gauge_pa < before.gauge_pa:
        least = before.gauge_pa - now.gauge_pa - 1.5 * step_pa
        if least <= 0.1 * before.gauge_pa + 2.0 * PSI_PA or may_fall(history, before, now):
            return True
        return passed_s > 900.0
    low = boiling_k(before.gauge_pa + step_pa / 2.0, engine.atmosphere_pa)
    high = boiling_k(now.gauge_pa - step_pa / 2.0, engine.atmosphere_pa)
    if before.gauge_pa < 0.5 * PSI_PA:
        low = COLD_K  # a needle at rest says nothing of how cold
        return now.gauge_pa < 20.0 * PSI_PA or (high - 372.0) * _j_per_k(grid) < (
            FASTEST * usual_w * (passed_s + 60.0)
        )
    return (high - low) * _j_per_k(grid) <= FASTEST * usual_w * (passed_s + 20.0)


FASTEST = 5.0  # times the usual heat rate of the engine that no fire exceeds


def may_fall(history: History, before: Pressure, now: Pressure) -> bool:
    """Whether something was reported that takes pressure: feed, steam drawn, a fire let down."""
    if any(history.state(what, now.at_s) == word for what, word in TAKERS):
        return True
    done = history.acts.between(before.at_s - 120.0, now.at_s)
    return any((act.what, act.state) in TAKERS for act in done)


TAKERS = frozenset(
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
