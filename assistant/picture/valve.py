"""Whether the safety valve moves, or should. Pure. Nothing reported is never "shut"."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from assistant.picture.given import Given
from assistant.picture.heat import MOVING
from assistant.picture.part import gauge_witness, told
from assistant.picture.readings import Reading, pressures

ValveState = Literal["shut", "feathering", "lifting", "overdue", "unknown"]

SET_TOLERANCE = 1.03  # set-pressure tolerance of a valve: ASME I, 70 to 300 psi
FALLEN = 0.9  # of where it moves: a gauge called lower since then has left the valve behind
MOVED_BEFORE_S = 180.0  # a movement so shortly before a reading belongs to it. Judgement
SILENT_S = 120.0  # so long the answer is awaited where nothing was told of it. Judgement
ANSWER_S = 30.0  # so long the answer is awaited where it was just told not to move. Judgement
JUST_TOLD_S = 180.0  # so shortly before the reading. Judgement
LIFTED_S = 1200.0  # a valve that lifted so lately is alive. Judgement
GRAIN = 1e-6
LIFTS_KEPT = 4


@dataclass(frozen=True, slots=True)
class Valve:
    """The safety valve."""

    value: ValveState
    since: float | None
    """When that began [s]: the report, or the first reading at which it should have moved."""
    age_s: float | None
    """How long ago it was last told of [s]; None: never."""
    over_lift: bool
    """Whether the last gauge reading is at the lift or over it."""
    witnesses: tuple[str, ...]
    silent_over_lift: bool = False
    """Whether the gauge is over the lift, and the valve was told to be shut there, or was not told
    of by the next reading or for some time."""
    silent_from: float | None = None
    """From when that is so if nothing more is told [s]; None: it is not asked."""
    lifts: tuple[float, ...] = ()
    """When it was told to lift, the last few, oldest first [s]."""


def valve_of(given: Given) -> Valve:
    """The valve now."""
    told_lifting = (t.at for t in given.reports.of("valve") if t.report.value == "lifting")
    return replace(_state(given), lifts=tuple(told_lifting)[-LIFTS_KEPT:])


def _state(given: Given) -> Valve:
    last, engine = told(given, "valve"), given.engine
    called = pressures(given.reports, engine)
    lift = engine.valve_lifts_gauge_pa * (1.0 - GRAIN)
    told_at = None if last.age_s is None else given.at - last.age_s
    over = bool(called) and (called[-1].value or 0.0) >= lift
    first = _unanswered(given, called, lift, at_lift=True)
    moving = last.value in MOVING and not _left_behind(given, called, told_at)
    if moving and (first is None or last.value == "lifting"):
        value: ValveState = "lifting" if last.value == "lifting" else "feathering"
        return Valve(value, last.since, last.age_s, over, last.witnesses)
    if first is None and not given.agreed:
        first = _unanswered(given, called, engine.valve_moves_gauge_pa * (1.0 - GRAIN))
    if first is not None:
        witnesses = (gauge_witness(called[-1], given.at), *last.witnesses)
        silent_from = _silent_from(given, called, lift, told_at)
        silent = silent_from is not None and given.at >= silent_from - GRAIN
        return Valve("overdue", first.at, last.age_s, over, witnesses, silent, silent_from)
    if last.value == "shut":
        return Valve("shut", last.since, last.age_s, over, last.witnesses)
    return Valve("unknown", None, last.age_s, over, last.witnesses)


def _silent_from(
    given: Given, called: tuple[Reading, ...], lift: float, told_at: float | None
) -> float | None:
    """From when it counts that over the lift it does not move: from that it was said, or from the
    next reading; else some time after it was asked, a short one where it was just told not to move.
    None: not over the lift, or it moved there.
    """
    first, over = _unanswered(given, called, lift, at_lift=True), called[-1].value or 0.0
    if first is None or over <= given.engine.valve_lifts_gauge_pa * (1.0 + GRAIN):
        return None
    told_there = told_at is not None and told_at >= first.at
    if told_there or first is not called[-1]:
        return first.at
    return first.at + (ANSWER_S if _just_told_shut(given, first.at) else SILENT_S)


def _just_told_shut(given: Given, at: float) -> bool:
    """Whether it was told not to move shortly before, and did not lift lately."""
    told_before = given.reports.of("valve")
    if not told_before or told_before[-1].report.value != "shut":
        return False
    lifted = (t.at for t in told_before if t.report.value == "lifting")
    return at - told_before[-1].at <= JUST_TOLD_S and at - max(lifted, default=-LIFTED_S) > LIFTED_S


def _left_behind(given: Given, called: tuple[Reading, ...], told_at: float | None) -> bool:
    """Whether a believed gauge has since fallen well below where the valve moves."""
    if given.conflict is not None or not called or told_at is None:
        return False
    last = called[-1]
    fallen = (last.value or 0.0) < FALLEN * given.engine.valve_moves_gauge_pa
    return fallen and last.at > told_at + MOVED_BEFORE_S


def _unanswered(
    given: Given, called: tuple[Reading, ...], limit: float, at_lift: bool = False
) -> Reading | None:
    """The first of the last readings from a limit on; None where the valve moved at them.

    at_lift: the limit is the lift, for which a feather told before it is no answer.
    """
    first: Reading | None = None
    for reading in reversed(called):
        if (reading.value or 0.0) < limit:
            break
        first = reading
    if first is None:
        return None
    before_s = dict.fromkeys(MOVING, MOVED_BEFORE_S)
    if at_lift and given.engine.valve_feathers_gauge_pa is not None:
        before_s["feathering"] = 0.0
    answered = any(
        t.at >= first.at - before_s[str(t.report.value)]
        for t in given.reports.of("valve")
        if t.report.value in MOVING
    )
    return None if answered else first
