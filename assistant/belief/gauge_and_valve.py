"""What the reports say of the pressure gauge against the safety valve. Pure; knows no words.

A conflict is folded from the reports in order of time, so that replay, resume and a retracted
report agree. A valve that reseats settles nothing by itself.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from assistant.belief.history import Act, History, Pressure
from assistant.boiler.figures import Engine

MOVING = ("feathering", "lifting")
VALVE, FIGURE = "valve", "valve figure"  # subjects of reports
AT_REST = 0.02  # of working pressure: a gauge called no higher has not moved
FAR_UNDER = 0.5  # of the feather; with `FAR_WITHIN_S` a gauge called under it is no gauge to trust
FAR_WITHIN_S = 300.0
GRAVE_UNDER = 0.75  # of the feather, called as the valve moves: no valve is set so light. Judgement
UNDER = 0.9  # of the feather; a little under it the figures or the gauge may be somewhat out
NEAR_WITHIN_S = 60.0  # a gauge called so near to the valve's movement tells of the same pressure
LIFT_WITHIN = 0.03  # of the lift: a gauge called as the valve lifts agrees. Judgement, after the
# set-pressure tolerance of a valve (ASME I, 70 to 300 psi)
FEATHERS_FROM = 0.94  # of the feather, and up to below the lift: as it feathers. Judgement
OVER_THE_LIFT = 1.06  # of the lift: a valve blowing fully holds it there (ASME I, PG-72: 6 %)
RESEATED_FROM = 0.7  # of the feather, called within `RESEATED_WITHIN_S` of the lift
RESEATED_WITHIN_S = 180.0
BORNE_OUT_S = 600.0  # pressure near the valve's falls no faster than this. Judgement
ANSWER_WITHIN_S = 300.0  # a gauge called so long after the valve began answers for it. Judgement


@dataclass(frozen=True, slots=True)
class Conflict:
    """Gauge and valve contradict each other."""

    grade: Literal["danger", "warning"]
    """Danger: the gauge shows nothing like what the valve holds. Warning: somewhat less."""
    since_s: float
    valve: Act
    """The first movement of the valve that was reported."""
    gauge: Pressure
    """The first reading that contradicts it."""


@dataclass(frozen=True, slots=True)
class GaugeAndValve:
    """How gauge and valve stand to each other after the reports so far."""

    conflict: Conflict | None = None
    agreed_s: float | None = None
    """When they last agreed: a moving valve, and a gauge that fits what it did."""
    unread_s: float | None = None
    """When a valve moved whose pressure no reading near it tells: the gauge is wanted now."""
    owned: bool = False
    """Whether a named person has said today at what the valve is set: a middle conflict is over."""
    unfit: bool = False
    """Whether the last gauge called as the valve moved fits neither what it did nor a conflict."""


def fits(event: str, gauge_pa: float, engine: Engine, called_to_pa: float) -> bool:
    """Whether a gauge called at this movement of the valve agrees with it: a lift near its figure,
    a feather near its own or between the two. called_to_pa: the step people round to.
    """
    slack, lift = called_to_pa / 2.0, engine.valve_lifts_gauge_pa
    if event == "lifting":
        return abs(gauge_pa - lift) <= LIFT_WITHIN * lift + slack
    return FEATHERS_FROM * engine.valve_moves_gauge_pa - slack <= gauge_pa < lift


def compared(history: History, engine: Engine) -> GaugeAndValve:
    """Fold the pressures and the valve's movements of one run, in order of time."""
    fold = _Fold(engine, history.step_pa)
    facts: list[Act | Pressure] = [act for act in history.acts if act.what in (VALVE, FIGURE)]
    for fact in sorted((*facts, *history.pressures), key=lambda fact: fact.at_s):
        if isinstance(fact, Pressure):
            fold.gauge_called(fact)
        elif fact.what == FIGURE:
            fold.figure_named()
        else:
            fold.valve_reported(fact)
    return fold.result


class _Fold:
    """The comparison so far."""

    def __init__(self, engine: Engine, called_to_pa: float) -> None:
        self._engine, self._called_to_pa = engine, called_to_pa
        self._at_rest_pa = AT_REST * engine.working_pressure_gauge_pa
        self._lift_pa = engine.valve_lifts_gauge_pa
        self._feather_pa = engine.valve_moves_gauge_pa
        self._gauge: Pressure | None = None
        self._moving: Act | None = None
        self._moved: Act | None = None
        self._last_movement_s: float | None = None
        self._unfit: Pressure | None = None
        """A reading called as the valve moved that neither settled nor raised anything."""
        self.result = GaugeAndValve()

    def gauge_called(self, gauge: Pressure) -> None:
        """A reading of the gauge."""
        self._gauge = gauge
        unread_s = self.result.unread_s
        self.result = replace(self.result, unread_s=None)
        moving = self._moving
        if moving is not None and gauge.at_s - moving.at_s <= NEAR_WITHIN_S:
            self._compare(moving, gauge, gauge.at_s)
        elif unread_s is not None and gauge.at_s - unread_s <= ANSWER_WITHIN_S:
            self._answered_late(moving or self._moved, gauge)

    def valve_reported(self, valve: Act) -> None:
        """The valve moves, or is shut again."""
        if valve.state not in MOVING:
            self._moving = None
            self._reseated(valve.at_s)
            return
        self._moving, self._last_movement_s = valve, valve.at_s
        self._moved = valve
        gauge = self._gauge
        if gauge is not None and self._tells(gauge, valve.at_s - gauge.at_s):
            self._compare(valve, gauge, valve.at_s)
            return
        known = self.result.conflict is not None or self.result.unread_s is not None
        if not known and not self._borne_out(valve.at_s):
            self.result = replace(self.result, unread_s=valve.at_s)

    def _borne_out(self, now_s: float) -> bool:
        """Whether the last reading, though not called just now, fits a valve that moves.

        Once the two have agreed today, a gauge called somewhat under the feather does, too.
        """
        gauge, agreed = self._gauge, self.result.agreed_s is not None
        if gauge is None or now_s - gauge.at_s > BORNE_OUT_S:
            return False
        least = RESEATED_FROM if agreed else UNDER
        return gauge.gauge_pa >= least * self._feather_pa

    def figure_named(self) -> None:
        """A named person says at what the valve is set: that ends a middle conflict for the day."""
        conflict = self.result.conflict
        over = conflict is not None and conflict.grade == "warning"
        conflict = None if over else conflict
        self.result = replace(self.result, owned=True, unfit=False, conflict=conflict)

    def _tells(self, gauge: Pressure, age_s: float) -> bool:
        """Whether a reading so old says anything of the pressure at which the valve moves."""
        if gauge.gauge_pa <= self._at_rest_pa:
            return True  # however old: pressure does not come to the valve in no time
        far = gauge.gauge_pa < FAR_UNDER * self._feather_pa
        return age_s <= (FAR_WITHIN_S if far else NEAR_WITHIN_S)

    def _compare(self, valve: Act, gauge: Pressure, now_s: float) -> None:
        if gauge.gauge_pa > OVER_THE_LIFT * self._lift_pa:
            return  # too high is an alarm of its own
        before = self.result.conflict
        if gauge.gauge_pa >= UNDER * self._feather_pa:
            near = abs(valve.at_s - gauge.at_s) <= NEAR_WITHIN_S
            if not fits(str(valve.state), gauge.gauge_pa, self._engine, self._called_to_pa):
                self._unfit = gauge
                self.result = replace(self.result, unfit=near and not self.result.owned)
            elif near:
                self.result = GaugeAndValve(agreed_s=now_s, owned=self.result.owned)
            return
        far = gauge.gauge_pa < FAR_UNDER * self._feather_pa
        if self.result.owned and not far:
            return
        near = abs(valve.at_s - gauge.at_s) <= NEAR_WITHIN_S
        grave = far or (near and gauge.gauge_pa < GRAVE_UNDER * self._feather_pa)
        if before is not None:
            conflict = replace(before, grade="danger") if grave else before
        else:
            conflict = Conflict("danger" if grave else "warning", now_s, valve, gauge)
        self.result = replace(self.result, conflict=conflict, unread_s=None)

    def _answered_late(self, valve: Act | None, gauge: Pressure) -> None:
        """The gauge was asked for as the valve moved, and is called after the minute.

        A valve that has reseated by then lets it stand somewhat under the feather.
        """
        if valve is not None and gauge.gauge_pa < RESEATED_FROM * self._feather_pa:
            self._compare(valve, gauge, gauge.at_s)

    def _reseated(self, now_s: float) -> None:
        """Shut again: it ends a conflict only after a gauge that has moved and fits the feather."""
        conflict, gauge = self.result.conflict, self._gauge
        if conflict is None or gauge is None or self._last_movement_s is None:
            return
        if gauge is self._unfit:
            return
        has_moved = gauge.gauge_pa != conflict.gauge.gauge_pa
        apart_s = abs(gauge.at_s - self._last_movement_s)
        least = UNDER if apart_s <= NEAR_WITHIN_S else RESEATED_FROM  # it blew down meanwhile
        fits = least * self._feather_pa <= gauge.gauge_pa <= self._feather_pa
        if has_moved and fits and apart_s <= RESEATED_WITHIN_S:
            self.result = GaugeAndValve(agreed_s=now_s, owned=self.result.owned)
