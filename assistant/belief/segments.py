"""From called pressures to unbroken rises and the bounds each reading sets. No belief, no words."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from assistant.belief.bands import Array
from assistant.belief.draught import Habit, along
from assistant.belief.history import History, Pressure
from assistant.belief.prior import usual_rate_w
from assistant.belief.rate_fit import WILD, ReadingBound, Segment
from assistant.belief.temperature_grid import CELLS, TemperatureGrid
from assistant.belief.temperature_track import (
    FASTEST,
    StandingPressures,
    believed_pressures,
    in_line,
    may_fall,
)
from assistant.boiler.figures import Engine
from assistant.boiler.scales import PSI_PA
from assistant.boiler.vessel import boiling_k

NEEDLE_PA = 3.0 * PSI_PA  # the first movement anybody calls: common practice, no source
CALLED_LATE_S = 300.0  # how long a first movement may go unreported: common practice, no source


@dataclass(frozen=True)
class Segments:
    """The rises of one run; `last`: the newest reading's bound; `doubted`: readings left out."""

    stretches: tuple[Segment, ...]
    bounds: tuple[ReadingBound, ...]
    last: ReadingBound | None
    doubted: tuple[Pressure, ...] = ()

    def draught(self, history: History, habit: Habit) -> Array:
        """The draught in each cell, logged behind the last reading and by habit ahead of it."""
        times, positions = [], []
        if self.stretches[0].from_lighting:
            times, positions = [self.stretches[0].about_s], [0.0]
        for bound in self.bounds if self.last is not None else ():
            middle = (bound.low + bound.high) / 2.0
            if bound.low > 0.0 and (not positions or middle > positions[-1]):
                times.append(bound.at_s)
                positions.append(middle)
        now = positions[-1] if positions else 0.0
        return along(history, habit, np.array(times), np.array(positions), now)


def segments_of(
    engine: Engine,
    history: History,
    grid: TemperatureGrid,
    now_s: float,
    called: StandingPressures | None = None,
) -> Segments:
    """Cut the readings where pressure fell or steam was taken, and bound the rest.

    called: `believed_pressures` of this history, where the caller has it.
    """
    step_pa = history.step_pa
    called = called or believed_pressures(engine, history, grid)
    stand = _that_matter(engine, called.stand)
    working_pa = engine.working_pressure_gauge_pa
    begins = {
        *called.jumps,
        *_breaks(history, stand, step_pa, working_pa),
        *_after_gap(called.stand, stand),
    }
    sure = _agreeing(engine, stand, step_pa)
    still = grid.position(boiling_k(0.0, engine.atmosphere_pa)) - 0.5
    lit_s = history.lit_s
    stretches: list[Segment] = []
    bounds: list[ReadingBound] = []
    if lit_s is not None:
        stretches.append(Segment(0.0, lit_s, 1.0, from_lighting=True))
    before: Pressure | None = None
    moved = False
    for pressure in stand:
        low, high, slack = _ends(engine, grid, pressure, step_pa)
        unlit = lit_s is None or pressure.at_s < lit_s
        warm = not moved and _was_warm(engine, grid, lit_s, pressure, step_pa)
        if not stretches or (before is None and unlit) or warm or pressure in begins:
            stretches.append(Segment(max(low, still if before else 0.0), pressure.at_s, 1200.0))
        outlier = 0.0 if pressure in sure else WILD
        moved = moved or low > 0.0
        bounds.append(ReadingBound(len(stretches) - 1, pressure.at_s, low, high, slack, outlier))
        before = pressure
    last = bounds[-1] if bounds else None
    if last is None and lit_s is not None and now_s - CALLED_LATE_S > lit_s:
        moves = grid.position(boiling_k(NEEDLE_PA, engine.atmosphere_pa))
        bounds.append(ReadingBound(0, now_s - CALLED_LATE_S, 0.0, moves, 1.0))
    if not stretches:
        stretches.append(Segment(0.0, now_s, 1200.0))
    return Segments(tuple(stretches), tuple(bounds), last, called.doubted)


def _that_matter(engine: Engine, stand: tuple[Pressure, ...]) -> tuple[Pressure, ...]:
    """The raising of steam up to working pressure, and after it the last hour and a half.

    In between the fire was held to what was wanted: that says nothing of what it can do now.
    """
    full = (i for i, p in enumerate(stand) if p.gauge_pa >= engine.working_pressure_gauge_pa)
    raised = next(full, len(stand)) + 1
    return tuple(
        p for i, p in enumerate(stand) if i < raised or p.at_s >= stand[-1].at_s - LONG_AGO_S
    )


def _after_gap(all_stand: tuple[Pressure, ...], kept: tuple[Pressure, ...]) -> tuple[Pressure, ...]:
    """The first reading behind those left away, if any were."""
    left = len(all_stand) - len(kept)
    return (
        next(((now,) for before, now in zip(all_stand, kept, strict=False) if before != now), ())
        if left
        else ()
    )


LONG_AGO_S = 5400.0  # common practice, no source


def _was_warm(
    engine: Engine, grid: TemperatureGrid, lit_s: float | None, first: Pressure, step_pa: float
) -> bool:
    """Whether the first steam came sooner than any fire makes it of cold water."""
    if lit_s is None or first.at_s < lit_s or first.gauge_pa <= step_pa / 2.0:
        return False
    end = grid.position(boiling_k(first.gauge_pa - step_pa / 2.0, engine.atmosphere_pa))
    heat_j = float(np.interp(end, np.arange(CELLS + 1), np.append(0.0, np.cumsum(grid.heat_j))))
    return heat_j > FASTEST * usual_rate_w(engine, grid) * (first.at_s - lit_s + 60.0)


def _ends(
    engine: Engine, grid: TemperatureGrid, pressure: Pressure, step_pa: float
) -> tuple[float, float, float]:
    def position(gauge_pa: float) -> float:
        return grid.position(boiling_k(gauge_pa, engine.atmosphere_pa))

    half = step_pa / 2.0
    misread = 0.12 * step_pa + 0.3 * PSI_PA
    high = position(pressure.gauge_pa + half)
    at_rest = pressure.gauge_pa <= 0.5 * PSI_PA
    low = 0.0 if at_rest else position(pressure.gauge_pa - half)
    around = position(pressure.gauge_pa + misread) - position(pressure.gauge_pa)
    # Air still shut in makes a low gauge say little about the temperature (physics check 15).
    air = 0.4 * math.exp(-max(pressure.gauge_pa, 0.0) / (8.0 * PSI_PA))
    return low, high, max(around + air, 0.02)


def _agreeing(
    engine: Engine, believed: tuple[Pressure, ...], step_pa: float
) -> frozenset[Pressure]:
    """Readings that cannot be wild: two in a row a step apart, three in one line of temperature.

    Whatever the engine file says of its fire, its water and its metal.
    """
    agree: set[Pressure] = set()
    for two in pairwise(believed):
        if abs(two[1].gauge_pa - two[0].gauge_pa) <= 1.1 * step_pa:
            agree.update(two)
    for three in zip(believed, believed[1:], believed[2:], strict=False):
        if in_line(engine, *three, step_pa):
            agree.update(three)
    return frozenset(agree)


def _breaks(
    history: History, believed: tuple[Pressure, ...], step_pa: float, working_pa: float
) -> tuple[Pressure, ...]:
    """Readings at which a new rise begins: steam was taken, or pressure fell and stayed down.

    Once she has been at working pressure, at every fall: the fire is eased and made up in turn.
    """
    begins: list[Pressure] = []
    highest, held = -math.inf, False
    for i, now in enumerate(believed):
        before = believed[i - 1] if i else None
        down = now.gauge_pa < highest - 1.2 * step_pa
        held = held or now.gauge_pa >= working_pa
        eased = held and before is not None and now.gauge_pa < before.gauge_pa - 0.6 * step_pa
        stays = i + 1 < len(believed) and believed[i + 1].gauge_pa < highest - 1.2 * step_pa
        told = before is not None and may_fall(history, before, now)
        fell = down and (stays or told)
        if before is not None and (_taken(history, before, now) or fell or eased):
            begins.append(now)
            highest = -math.inf
        highest = max(highest, now.gauge_pa)
    return tuple(begins)


def _taken(history: History, before: Pressure, now: Pressure) -> bool:
    taken = {("regulator", "open"), ("valve", "lifting"), ("fire", "drawn"), ("fire", "lit")}
    return any(
        before.at_s < act.at_s and (act.what, act.state) in taken
        for act in history.acts.between(before.at_s, now.at_s)
    )
