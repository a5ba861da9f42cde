"""The life of one alarm: raised, heard, put aside, cleared. Pure values; knows no engine.

Danger is never put aside. Anything else may be, once, for a quarter of an hour at most and with a
reason; the end of it is announced. Silence never clears anything.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from assistant.alarms.rules import BY_NAME, Rule
from assistant.messages import Grade

SHELF_S = 900.0
REMIND_S = {
    Grade.DANGER: 30.0,
    Grade.WARNING: 180.0,
}  # until heard; judgement, under three a minute
REMIND_MOST = {Grade.DANGER: 1000, Grade.WARNING: 2}


@dataclass(frozen=True, slots=True)
class Alarm:
    """An alarm that stands.

    reason: made of the numbers that raised it.
    told_at: when it was last spoken, None while it is held back behind its first cause.
    good: readings in a row inside by the deadband, up to `read_at`.
    """

    name: str
    raised_at: float
    reason: str
    told_at: float | None = None
    told_times: int = 0
    heard_at: float | None = None
    shelved_until: float | None = None
    was_shelved: bool = False
    good: int = 0
    read_at: float = float("-inf")

    @property
    def rule(self) -> Rule:
        """Its row in the table."""
        return BY_NAME[self.name]

    @property
    def held(self) -> bool:
        """Held back as the consequence of another."""
        return self.told_at is None


_State = Literal["raised", "held", "reminded", "acknowledged", "shelved", "shelf ended", "cleared"]


@dataclass(frozen=True, slots=True)
class Change:
    """What happened to an alarm; `tone` and `text` are what is heard of it, if anything."""

    rule: Rule
    state: _State
    reason: str = ""
    text: str = ""
    tone: Grade | None = None


def announced(alarm: Alarm, at: float, state: _State = "raised") -> tuple[Alarm, Change]:
    """The alarm, spoken: tone first, then its words."""
    rule = alarm.rule
    spoken = replace(alarm, told_at=at, told_times=alarm.told_times + 1, shelved_until=None)
    return spoken, Change(rule, state, alarm.reason, rule.text, rule.grade)


def reminder_due(alarm: Alarm, at: float) -> bool:
    """It was spoken, nobody has said that it was heard, and it is time to say it again."""
    every = _remind_every_s(alarm)
    return alarm.told_at is not None and every is not None and at - alarm.told_at >= every


def _remind_every_s(alarm: Alarm) -> float | None:
    grade = alarm.rule.grade
    waits = alarm.heard_at is None and alarm.shelved_until is None
    more = alarm.told_times <= REMIND_MOST.get(grade, 0)
    return REMIND_S.get(grade) if waits and more else None


def by_time(alarm: Alarm) -> tuple[float, ...]:
    """When time alone lets something be heard of it: the end of its shelf, a reminder [s]."""
    every = _remind_every_s(alarm)
    ends = () if alarm.shelved_until is None else (alarm.shelved_until,)
    return ends if alarm.told_at is None or every is None else (*ends, alarm.told_at + every)


def heard(alarm: Alarm, at: float) -> tuple[Alarm, Change]:
    """The operator has heard it. It stands until it clears."""
    return replace(alarm, heard_at=at), Change(alarm.rule, "acknowledged", alarm.reason)


def shelved_alarm(alarm: Alarm, at: float, reason: str, minutes: float = 15.0) -> tuple[Alarm, str]:
    """The alarm put aside, and "" ; or the alarm as it was, and why not."""
    if alarm.rule.grade is Grade.DANGER:
        return alarm, "Danger is never put aside."
    if alarm.was_shelved:
        return alarm, "It was put aside once already."
    if not reason.strip():
        return alarm, "Give a reason."
    until = at + min(60.0 * max(0.0, minutes), SHELF_S)
    return replace(alarm, shelved_until=until, was_shelved=True, heard_at=at), ""


def shelf_ended(alarm: Alarm, at: float) -> bool:
    """Its time on the shelf is over."""
    return alarm.shelved_until is not None and at >= alarm.shelved_until


def looked_at(alarm: Alarm, normal: bool, read_at: float | None) -> Alarm:
    """Count a new reading: inside by the deadband, or back to none."""
    if read_at is None or read_at <= alarm.read_at:
        return alarm
    return replace(alarm, good=alarm.good + 1 if normal else 0, read_at=read_at)


def clears(alarm: Alarm, normal: bool) -> bool:
    """Enough readings in a row, or at once where no gauge is read for it."""
    return alarm.good >= alarm.rule.readings if alarm.rule.reads else normal
