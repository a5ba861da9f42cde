"""The watch: which alarms stand, and what changed by looking again. Pure; rules are in `rules`.

The first cause is spoken; what follows from it is held back until asked, or until the cause clears.
A graver alarm is never held back behind a lesser one, and danger is never held back at all.
"""

from __future__ import annotations

import math
from collections.abc import Collection
from dataclasses import dataclass, replace

from assistant.alarms import lifecycle
from assistant.alarms.condition import never
from assistant.alarms.inputs import AlarmInputs
from assistant.alarms.lifecycle import Alarm, Change
from assistant.alarms.rules import RULES, Rule
from assistant.messages import Grade

GRAIN_S = 1e-3  # a moment that a sum may have rounded past is still to come
GRAVEST_FIRST = tuple(sorted(RULES, key=lambda rule: -rule.grade))
BY_TIME = tuple(rule.by_time for rule in RULES if rule.by_time is not never)


@dataclass(frozen=True, slots=True)
class Watch:
    """The alarms that stand, in the order they were raised."""

    alarms: tuple[Alarm, ...] = ()

    def alarm(self, name: str) -> Alarm | None:
        """The alarm of that name, if it stands."""
        return next((a for a in self.alarms if a.name == name), None)

    def spoken(self) -> tuple[Alarm, ...]:
        """The alarms that were spoken, gravest and newest first."""
        aloud = [a for a in self.alarms if not a.held]
        return tuple(sorted(aloud, key=lambda a: (-a.rule.grade, -a.raised_at)))

    def held(self) -> tuple[Alarm, ...]:
        """The consequences held back, for when somebody asks."""
        return tuple(a for a in self.alarms if a.held)

    @property
    def danger(self) -> bool:
        """An alarm of the danger class stands."""
        return any(a.rule.grade is Grade.DANGER for a in self.alarms)


def look(
    watch: Watch, sight: AlarmInputs, at: float, corrected: Collection[str] = ()
) -> tuple[Watch, tuple[Change, ...]]:
    """Look once: what clears, what is raised, what is due to be said again; gravest first.

    corrected: gauges with a reading that was taken back; alarms that rested on it fall with it.
    """
    alarms, changes = _cleared(watch.alarms, sight, at, corrected)
    standing = {alarm.name for alarm in alarms}
    for rule in GRAVEST_FIRST:
        if rule.name in standing:
            continue
        if reason := rule.raised(sight, at):
            alarms, change = _raise(alarms, _new(rule, reason, sight, at), at)
            changes.append(change)
    alarms, released = _release(alarms, at)
    alarms, ended = _shelf(alarms, at)
    changes += released + ended
    if not any(c.tone for c in changes):
        alarms, again = _remind(alarms, sight, at)
        changes += again
    changes.sort(key=lambda c: -c.rule.grade if c.tone else 0)
    return Watch(tuple(alarms)), tuple(changes)


def next_deadline(watch: Watch, sight: AlarmInputs, at: float) -> float:
    """Until when a further look at the same finds nothing, where one at this time found nothing."""
    raised = (by_time(sight) for by_time in BY_TIME)
    heard = (when for alarm in watch.alarms for when in lifecycle.by_time(alarm))
    return min((when for when in (*raised, *heard) if when > at - GRAIN_S), default=math.inf)


def _new(rule: Rule, reason: str, sight: AlarmInputs, at: float) -> Alarm:
    last = sight.last(rule.reads)
    return Alarm(rule.name, at, reason, read_at=last.at if last else float("-inf"))


def _cleared(
    standing: tuple[Alarm, ...], sight: AlarmInputs, at: float, corrected: Collection[str]
) -> tuple[list[Alarm], list[Change]]:
    kept: list[Alarm] = []
    changes: list[Change] = []
    for alarm in standing:
        rule = alarm.rule
        fell = bool(rule.reads) and rule.reads in corrected and rule.raised(sight, at) is None
        normal = rule.normal(sight, at)
        last = sight.last(rule.reads)
        alarm = lifecycle.looked_at(alarm, normal, last.at if last else None)
        if fell or lifecycle.clears(alarm, normal):
            reason = "the reading was taken back" if fell else _why_cleared(rule, sight)
            changes.append(Change(rule, "cleared", reason))
        else:
            kept.append(alarm)
    return kept, changes


def _why_cleared(rule: Rule, sight: AlarmInputs) -> str:
    if not rule.reads:
        return "no longer so"
    values = [f"{r.value:.4g}" for r in sight.readings(rule.reads)[-rule.readings :]
              if isinstance(r.value, float)]  # fmt: skip
    return f"{rule.reads} {', '.join(values)}"


def _raise(alarms: list[Alarm], new: Alarm, at: float) -> tuple[list[Alarm], Change]:
    if _first_cause(alarms, new.rule) is not None:
        return [*alarms, new], Change(new.rule, "held", new.reason)
    spoken, change = lifecycle.announced(new, at)
    return [*alarms, spoken], change


def _first_cause(alarms: list[Alarm], rule: Rule) -> Alarm | None:
    """The standing alarm behind which one of this rule is held back."""
    if rule.grade is Grade.DANGER:
        return None
    return next(
        (a for a in alarms if not a.held and a.name != rule.name
         and a.rule.group == rule.group and a.rule.grade >= rule.grade),
        None,
    )  # fmt: skip


def _release(alarms: list[Alarm], at: float) -> tuple[list[Alarm], list[Change]]:
    """Speak what was held back and has no first cause in front of it any more, gravest first."""
    changes: list[Change] = []
    for alarm in sorted((a for a in alarms if a.held), key=lambda a: (-a.rule.grade, a.raised_at)):
        if _first_cause(alarms, alarm.rule) is None:
            spoken, change = lifecycle.announced(alarm, at)
            alarms = [spoken if a.name == alarm.name else a for a in alarms]
            changes.append(change)
    return alarms, changes


def _shelf(alarms: list[Alarm], at: float) -> tuple[list[Alarm], list[Change]]:
    """Announce the end of every quiet time that is over."""
    changes: list[Change] = []
    kept = []
    for alarm in alarms:
        if lifecycle.shelf_ended(alarm, at):
            alarm, change = lifecycle.announced(replace(alarm, heard_at=None), at, "shelf ended")
            changes.append(change)
        kept.append(alarm)
    return kept, changes


def _remind(alarms: list[Alarm], sight: AlarmInputs, at: float) -> tuple[list[Alarm], list[Change]]:
    """Say the gravest, newest alarm again that nobody has said was heard; the others wait.

    Except for danger, what was asked for and is done ("damper shut") is not asked for again.
    """
    unheard = [
        a
        for a in Watch(tuple(alarms)).spoken()
        if a.heard_at is None and (a.rule.grade is Grade.DANGER or not a.rule.normal(sight, at))
    ]
    if not unheard or not lifecycle.reminder_due(unheard[0], at):
        return alarms, []
    alarm, change = lifecycle.announced(unheard[0], at, "reminded")
    return [alarm if a.name == alarm.name else a for a in alarms], [change]


def acknowledge(watch: Watch, at: float, name: str = "") -> tuple[Watch, tuple[Change, ...]]:
    """The operator has heard: the alarm named, or every spoken one not acknowledged yet."""
    kept: list[Alarm] = []
    changes: list[Change] = []
    for alarm in watch.alarms:
        mine = not alarm.held and alarm.heard_at is None and name in ("", alarm.name)
        if mine:
            alarm, change = lifecycle.heard(alarm, at)
            changes.append(change)
        kept.append(alarm)
    return Watch(tuple(kept)), tuple(changes)


def shelve(
    watch: Watch, at: float, reason: str, name: str = "", minutes: float = 15.0
) -> tuple[Watch, tuple[Change, ...], str]:
    """Put an alarm aside: the one named, or the gravest spoken one. The last part says why not."""
    wanted = [a for a in watch.spoken() if name in ("", a.name) and a.shelved_until is None]
    if not wanted:
        return watch, (), "No alarm stands."
    aside, refused = lifecycle.shelved_alarm(wanted[0], at, reason, minutes)
    if refused:
        return watch, (), refused
    alarms = tuple(aside if a.name == aside.name else a for a in watch.alarms)
    return Watch(alarms), (Change(aside.rule, "shelved", reason),), ""
