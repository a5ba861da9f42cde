"""From readings of the gauge to unbroken rises and the bounds that each reading sets."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from assistant.belief.bands import Array
from assistant.belief.draught import TypicalDraught, draught_by_cell
from assistant.belief.history import AT_REST_PA, History, Pressure
from assistant.belief.prior import typical_rate_w
from assistant.belief.reading_bounds import OUTLIER_CHANCE, ReadingBound, Segment
from assistant.belief.temperature_grid import CELLS, TemperatureGrid
from assistant.belief.temperature_track import (
    FASTEST,
    ScreenedPressures,
    fall_is_explained,
    on_one_line,
    screened_pressures,
)
from assistant.boiler.figures import Engine
from assistant.boiler.scales import PSI_PA
from assistant.boiler.vessel import boiling_k

FIRST_MOVEMENT_PA = 3.0 * PSI_PA  # the least movement people call: common practice, no source
CALL_DELAY_S = 300.0  # how long a first movement may go unreported: common practice, no source
RECENT_S = 5400.0  # readings this far back still say what the fire can do: common practice


BREAKING_ACTS = {
    ("regulator", "open"),
    ("valve", "lifting"),
    ("fire", "drawn"),
    ("fire", "lit"),
}


@dataclass(frozen=True)
class SegmentedRun:
    """The readings of one run as bounds on unbroken rises."""

    segments: tuple[Segment, ...]
    """the rises, in order of time; at least one"""
    bounds: tuple[ReadingBound, ...]
    """what each reading that counts says"""
    last: ReadingBound | None
    """the newest reading's bound; None: nothing was read"""
    doubted: tuple[Pressure, ...] = ()
    """readings left out"""

    def draught(self, history: History, typical: TypicalDraught) -> Array:
        """The draught in each cell: as logged up to the last reading, as typical beyond."""
        times, positions = [], []
        if self.segments[0].from_lighting:
            times, positions = [self.segments[0].about_s], [0.0]
        for bound in self.bounds if self.last is not None else ():
            middle = (bound.low + bound.high) / 2.0
            if bound.low > 0.0 and (not positions or middle > positions[-1]):
                times.append(bound.at_s)
                positions.append(middle)
        now = positions[-1] if positions else 0.0
        return draught_by_cell(history, typical, np.array(times), np.array(positions), now)


def segments_of(
    engine: Engine,
    history: History,
    grid: TemperatureGrid,
    now_s: float,
    screened: ScreenedPressures | None = None,
) -> SegmentedRun:
    """Cut the run where pressure fell or steam was taken, and turn readings into bounds.

    screened: `screened_pressures` of this history, where the caller has it.
    """
    step_pa = history.step_pa
    screened = screened or screened_pressures(engine, history, grid)
    counted = _counted(engine, screened.accepted)
    working_pa = engine.working_pressure_gauge_pa
    begins = {
        *screened.jumps,
        *_breaks(history, counted, step_pa, working_pa),
        *_first_after_gap(screened.accepted, counted),
    }
    confirmed = _confirmed(engine, counted, step_pa)
    nearly_boiling = grid.position(boiling_k(0.0, engine.atmosphere_pa)) - 0.5
    lit_s = history.lit_s
    segments: list[Segment] = []
    bounds: list[ReadingBound] = []
    if lit_s is not None:
        segments.append(Segment(0.0, lit_s, 1.0, from_lighting=True))
    before: Pressure | None = None
    moved = False
    for pressure in counted:
        low, high, slack = _bounds_of(engine, grid, pressure, step_pa)
        unlit = lit_s is None or pressure.at_s < lit_s
        warm = not moved and _was_warm(engine, grid, lit_s, pressure, step_pa)
        if not segments or (before is None and unlit) or warm or pressure in begins:
            start = max(low, nearly_boiling if before else 0.0)
            segments.append(Segment(start, pressure.at_s, 1200.0))
        outlier = 0.0 if pressure in confirmed else OUTLIER_CHANCE
        moved = moved or low > 0.0
        bounds.append(ReadingBound(len(segments) - 1, pressure.at_s, low, high, slack, outlier))
        before = pressure
    last = bounds[-1] if bounds else None
    if last is None and lit_s is not None and now_s - CALL_DELAY_S > lit_s:
        moves = grid.position(boiling_k(FIRST_MOVEMENT_PA, engine.atmosphere_pa))
        bounds.append(ReadingBound(0, now_s - CALL_DELAY_S, 0.0, moves, 1.0))
    if not segments:
        segments.append(Segment(0.0, now_s, 1200.0))
    return SegmentedRun(tuple(segments), tuple(bounds), last, screened.doubted)


def _counted(engine: Engine, accepted: tuple[Pressure, ...]) -> tuple[Pressure, ...]:
    """The raising of steam up to working pressure, and after it the last hour and a half.

    In between the fire was held to what was wanted, which does not show what it can do now.
    """
    full = (i for i, p in enumerate(accepted) if p.gauge_pa >= engine.working_pressure_gauge_pa)
    raised = next(full, len(accepted)) + 1
    recent_s = accepted[-1].at_s - RECENT_S if accepted else 0.0
    return tuple(p for i, p in enumerate(accepted) if i < raised or p.at_s >= recent_s)


def _first_after_gap(
    accepted: tuple[Pressure, ...], counted: tuple[Pressure, ...]
) -> tuple[Pressure, ...]:
    """The first reading after those not counted, if there are any."""
    if len(accepted) == len(counted):
        return ()
    pairs = zip(accepted, counted, strict=False)
    return next(((now,) for before, now in pairs if before != now), ())


def _was_warm(
    engine: Engine, grid: TemperatureGrid, lit_s: float | None, first: Pressure, step_pa: float
) -> bool:
    """Whether the first steam came sooner than any fire could raise it from cold."""
    if lit_s is None or first.at_s < lit_s or first.gauge_pa <= step_pa / 2.0:
        return False
    end = grid.position(boiling_k(first.gauge_pa - step_pa / 2.0, engine.atmosphere_pa))
    heat_j = float(np.interp(end, np.arange(CELLS + 1), np.append(0.0, np.cumsum(grid.heat_j))))
    return heat_j > FASTEST * typical_rate_w(engine, grid) * (first.at_s - lit_s + 60.0)


def _bounds_of(
    engine: Engine, grid: TemperatureGrid, pressure: Pressure, step_pa: float
) -> tuple[float, float, float]:
    """Lowest and highest position that a reading leaves open, and the smear of both [cells]."""

    def position(gauge_pa: float) -> float:
        return grid.position(boiling_k(gauge_pa, engine.atmosphere_pa))

    half = step_pa / 2.0
    misread = 0.12 * step_pa + 0.3 * PSI_PA
    high = position(pressure.gauge_pa + half)
    at_rest = pressure.gauge_pa <= AT_REST_PA
    low = 0.0 if at_rest else position(pressure.gauge_pa - half)
    around = position(pressure.gauge_pa + misread) - position(pressure.gauge_pa)
    # Air still shut in makes a low gauge say little about the temperature.
    air = 0.4 * math.exp(-max(pressure.gauge_pa, 0.0) / (8.0 * PSI_PA))
    return low, high, max(around + air, 0.02)


def _confirmed(
    engine: Engine, accepted: tuple[Pressure, ...], step_pa: float
) -> frozenset[Pressure]:
    """Readings that others confirm: two in a row a step apart, three on one line of temperature.

    They are no outliers, whatever the engine file says of its fire, water and metal.
    """
    confirmed: set[Pressure] = set()
    for two in pairwise(accepted):
        if abs(two[1].gauge_pa - two[0].gauge_pa) <= 1.1 * step_pa:
            confirmed.update(two)
    for three in zip(accepted, accepted[1:], accepted[2:], strict=False):
        if on_one_line(engine, *three, step_pa):
            confirmed.update(three)
    return frozenset(confirmed)


def _breaks(
    history: History, accepted: tuple[Pressure, ...], step_pa: float, working_pa: float
) -> tuple[Pressure, ...]:
    """Readings at which a new rise begins: steam was taken, or pressure fell and stayed down.

    Once working pressure was reached, at every fall: the fire is eased and made up in turn.
    """
    begins: list[Pressure] = []
    highest, reached = -math.inf, False
    for i, now in enumerate(accepted):
        before = accepted[i - 1] if i else None
        down = now.gauge_pa < highest - 1.2 * step_pa
        reached = reached or now.gauge_pa >= working_pa
        eased = reached and before is not None and now.gauge_pa < before.gauge_pa - 0.6 * step_pa
        stays = i + 1 < len(accepted) and accepted[i + 1].gauge_pa < highest - 1.2 * step_pa
        explained = before is not None and fall_is_explained(history, before, now)
        fell = down and (stays or explained)
        if before is not None and (_steam_taken(history, before, now) or fell or eased):
            begins.append(now)
            highest = -math.inf
        highest = max(highest, now.gauge_pa)
    return tuple(begins)


def _steam_taken(history: History, before: Pressure, now: Pressure) -> bool:
    """Whether steam was first taken, or the fire drawn or lit, between two readings."""
    return any(
        before.at_s < act.at_s and (act.what, act.state) in BREAKING_ACTS
        for act in history.acts.between(before.at_s, now.at_s)
    )
