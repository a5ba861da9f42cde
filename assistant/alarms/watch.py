"""The watch: which alarms stand, and what a new look at the engine changes. Pure.

The first cause is spoken; its consequences are suppressed until it clears. A graver alarm is never
suppressed by a lesser one, and danger is never suppressed at all.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from typing import TypeVar

from assistant.alarms import lifecycle
from assistant.alarms.condition import Deadline, no_deadline
from assistant.alarms.inputs import AlarmInputs
from assistant.alarms.lifecycle import Alarm, Change
from assistant.alarms.rule import Rule
from assistant.alarms.rules import RULES
from assistant.messages import Grade

GRAIN_S = 1e-3  # tolerance for rounding in the sums of times
GRAVEST_FIRST = tuple(sorted(RULES, key=lambda rule: -rule.grade))
DEADLINES = tuple(rule.deadline for rule in RULES if rule.deadline is not no_deadline)


@dataclass(frozen=True, slots=True)
class Watch:
    """The alarms that stand, in the order they were raised."""

    alarms: tuple[Alarm, ...] = ()

    def spoken(self) -> tuple[Alarm, ...]:
        """The alarms that were spoken, gravest and newest first.

        A danger that is only overdue comes after those that were seen, the oldest of them first:
        "look at the glass" never takes the place of "stop the heat".
        """
        return tuple(sorted((a for a in self.alarms if not a.suppressed), key=_gravest_first))

    def stands(self, *names: str) -> bool:
        """Whether one of these alarms stands, spoken or not."""
        return any(alarm.name in names for alarm in self.alarms)

    def says(self, *names: str) -> bool:
        """Whether one of these alarms stands and was spoken."""
        return any(alarm.name in names for alarm in self.alarms if not alarm.suppressed)

    @property
    def danger(self) -> bool:
        """Whether an alarm of the danger class stands."""
        return any(a.rule.grade is Grade.DANGER for a in self.alarms)


def _gravest_first(alarm: Alarm) -> tuple[float, bool, float]:
    overdue = alarm.rule.grade is Grade.DANGER and alarm.rule.kind == "overdue"
    return -alarm.rule.grade, overdue, alarm.raised_at if overdue else -alarm.raised_at


_Answer = TypeVar("_Answer")
Failed = Callable[[Exception], None]
"""Is told of an error of ours in one row, while the others go on."""


def _raise_it(bug: Exception) -> None:
    raise bug


@dataclass(frozen=True, slots=True)
class _Asker:
    """Asks the rows of one look. A row that fails is unknown: not raised anew, and not over."""

    inputs: AlarmInputs
    at: float
    failed: Failed

    def condition(self, rule: Rule) -> str | None:
        """The reason to raise it, or None."""
        return self._ask(lambda: rule.condition(self.inputs, self.at), None)

    def normal(self, rule: Rule) -> bool:
        """Whether it is back to normal."""
        return self._ask(lambda: rule.normal(self.inputs, self.at), False)

    def one_is_enough(self, rule: Rule) -> bool:
        """Whether one normal reading ends it."""
        return self._ask(lambda: rule.one_is_enough(self.inputs, self.at), False)

    def replaced(self, rule: Rule) -> bool:
        """Whether a graver one has taken its place."""
        return self._ask(lambda: rule.replaced(self.inputs, self.at), False)

    def _ask(self, question: Callable[[], _Answer], unknown: _Answer) -> _Answer:
        try:
            return question()
        except Exception as bug:
            self.failed(bug)
            return unknown


def look(
    watch: Watch,
    inputs: AlarmInputs,
    at: float,
    retracted: Collection[str] = (),
    failed: Failed = _raise_it,
) -> tuple[Watch, tuple[Change, ...]]:
    """Look once: what clears, what is raised, what comes back from its shelf; gravest first.

    retracted: gauges with a reading that was retracted; an alarm that rested on it is cleared.
    failed: is told of each row that fails, which counts as unknown.
    """
    asker = _Asker(inputs, at, failed)
    alarms, changes = _clear(watch.alarms, asker, retracted)
    standing = {alarm.name for alarm in alarms}
    for rule in GRAVEST_FIRST:
        if rule.name in standing:
            continue
        if reason := asker.condition(rule):
            alarms, change = _raise(alarms, _new(rule, reason, inputs, at), at)
            changes.append(change)
    alarms, released = _release(alarms, asker)
    alarms, unshelved = _unshelve(alarms, at)
    changes += released + unshelved
    changes.sort(key=lambda change: -change.rule.grade if change.to_be_told else 0)
    return Watch(tuple(alarms)), tuple(changes)


def next_deadline(watch: Watch, inputs: AlarmInputs, at: float) -> float:
    """Until when looking again at the same inputs finds nothing, if it found nothing now."""
    to_raise = (_deadline_of(deadline, inputs) for deadline in DEADLINES)
    to_speak = (when for alarm in watch.alarms for when in lifecycle.deadlines(alarm))
    return min((when for when in (*to_raise, *to_speak) if when > at - GRAIN_S), default=math.inf)


def _deadline_of(deadline: Deadline, inputs: AlarmInputs) -> float:
    """When time alone raises it; a row that fails is asked again at every look [s]."""
    try:
        return deadline(inputs)
    except Exception:  # told by the look itself
        return math.inf


def _new(rule: Rule, reason: str, inputs: AlarmInputs, at: float) -> Alarm:
    last = inputs.last(rule.gauge)
    return Alarm(rule.name, at, reason, last_reading_at=last.at if last else float("-inf"))


def _clear(
    standing: tuple[Alarm, ...], asker: _Asker, retracted: Collection[str]
) -> tuple[list[Alarm], list[Change]]:
    inputs = asker.inputs
    remaining: list[Alarm] = []
    changes: list[Change] = []
    for alarm in standing:  # none ends while it would be raised again at once
        rule = alarm.rule
        unfounded = rule.gauge in retracted and _rested_on_it(alarm, asker)
        normal = asker.normal(rule)
        last = inputs.last(rule.gauge)
        if rule.gauge in retracted:
            alarm = lifecycle.count_anew(alarm)
        alarm = lifecycle.count_reading(alarm, normal, last.at if last else None)
        replaced = asker.replaced(rule)
        over = lifecycle.may_clear(alarm, normal, asker.one_is_enough(rule))
        over = over and asker.condition(rule) is None
        if unfounded or replaced or over:
            taken_back = "the reading was taken back" if unfounded else ""
            reason = taken_back or _why_cleared(rule, inputs)
            changes.append(Change(rule, "cleared", reason, quiet=unfounded or replaced))
        else:
            remaining.append(alarm)
    return remaining, changes


def _rested_on_it(alarm: Alarm, asker: _Asker) -> bool:
    """Whether nothing raises it without the reading that was taken back, nor did another since."""
    called = asker.inputs.readings(alarm.rule.gauge)[:-1]
    others = [reading for reading in called if reading.at >= alarm.raised_at - GRAIN_S]
    return not others and asker.condition(alarm.rule) is None


def _why_cleared(rule: Rule, inputs: AlarmInputs) -> str:
    if not rule.gauge:
        return "no longer so"
    values = [f"{r.value:.4g}" for r in inputs.readings(rule.gauge)[-rule.readings :]
              if isinstance(r.value, float)]  # fmt: skip
    return f"{rule.gauge} {', '.join(values)}"


def _raise(alarms: list[Alarm], new: Alarm, at: float) -> tuple[list[Alarm], Change]:
    if _first_cause(alarms, new.rule) is not None:
        return [*alarms, replace(new, suppressed=True)], Change(new.rule, "suppressed", new.reason)
    spoken, change = lifecycle.release(new)
    return [*alarms, spoken], change


def _first_cause(alarms: list[Alarm], rule: Rule) -> Alarm | None:
    """The standing alarm that suppresses one of this rule."""
    if rule.grade is Grade.DANGER:
        return None
    return next(
        (a for a in alarms if not a.suppressed and a.name != rule.name
         and a.rule.group == rule.group and a.rule.grade >= rule.grade),
        None,
    )  # fmt: skip


def _release(alarms: list[Alarm], asker: _Asker) -> tuple[list[Alarm], list[Change]]:
    """Speak what was suppressed and no longer has a first cause, gravest first.

    Not what is back to normal by now: that only waits for the readings that clear it.
    """
    changes: list[Change] = []
    for alarm in sorted(
        (a for a in alarms if a.suppressed), key=lambda a: (-a.rule.grade, a.raised_at)
    ):
        if _first_cause(alarms, alarm.rule) is None and not asker.normal(alarm.rule):
            spoken, change = lifecycle.release(alarm)
            alarms = [spoken if a.name == alarm.name else a for a in alarms]
            changes.append(change)
    return alarms, changes


def _unshelve(alarms: list[Alarm], at: float) -> tuple[list[Alarm], list[Change]]:
    """Announce again every alarm whose shelving is over."""
    changes: list[Change] = []
    updated = []
    for alarm in alarms:
        if lifecycle.is_shelving_over(alarm, at):
            open_again = replace(alarm, acknowledged_at=None)
            alarm, change = lifecycle.release(open_again, "shelf ended")
            changes.append(change)
        updated.append(alarm)
    return updated, changes


def acknowledge(watch: Watch, at: float) -> tuple[Watch, tuple[Change, ...]]:
    """Acknowledge every spoken alarm that is not acknowledged yet."""
    updated: list[Alarm] = []
    changes: list[Change] = []
    for alarm in watch.alarms:
        if not alarm.suppressed and alarm.acknowledged_at is None:
            alarm, change = lifecycle.acknowledge_alarm(alarm, at)
            changes.append(change)
        updated.append(alarm)
    return Watch(tuple(updated)), tuple(changes)


def shelve(watch: Watch, at: float, reason: str) -> tuple[Watch, tuple[Change, ...], str]:
    """Shelve the gravest spoken alarm. The last part says why it is refused, or is empty."""
    candidates = [a for a in watch.spoken() if a.shelved_until is None]
    if not candidates:
        return watch, (), "No alarm stands."
    shelved, refused = lifecycle.shelve_alarm(candidates[0], at, reason)
    if refused:
        return watch, (), refused
    alarms = tuple(shelved if a.name == shelved.name else a for a in watch.alarms)
    return Watch(alarms), (Change(shelved.rule, "shelved", reason),), ""
