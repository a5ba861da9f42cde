"""The life of one alarm: raised, acknowledged, shelved, cleared. Pure values; knows no engine.

Danger and warning are never shelved: what they warn of goes on meanwhile. A caution may be, once,
for a quarter of an hour and with a reason; the end of that is announced. Silence never clears
anything.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from assistant.alarms.rule import Rule
from assistant.alarms.rules import BY_NAME
from assistant.messages import Grade

SHELF_S = 900.0  # judgement
APART_S = 45.0  # between two readings where the second is asked for in a minute. Judgement


@dataclass(frozen=True, slots=True)
class Alarm:
    """An alarm that stands. Times are in seconds."""

    name: str
    raised_at: float
    reason: str
    """Made of the numbers that raised it."""
    suppressed: bool = False
    """It is the consequence of another alarm, and not to be spoken."""
    acknowledged_at: float | None = None
    """When the operator acknowledged it."""
    shelved_until: float | None = None
    """Until when it is shelved."""
    shelved_before: bool = False
    """Whether it was ever shelved."""
    normal_readings: int = 0
    """Readings in a row that were back to normal."""
    last_reading_at: float = float("-inf")
    """The time of the last reading that was counted."""

    @property
    def rule(self) -> Rule:
        """Its row in the table."""
        return BY_NAME[self.name]


_State = Literal["raised", "suppressed", "acknowledged", "shelved", "shelf ended", "cleared"]


@dataclass(frozen=True, slots=True)
class Change:
    """What happened to an alarm."""

    rule: Rule
    state: _State
    reason: str = ""
    quiet: bool = False
    """It ended because a reading was taken back or another alarm took its place: no word of it."""

    @property
    def to_be_told(self) -> bool:
        """It stands from now on and is no consequence of another."""
        return self.state in ("raised", "shelf ended")


def release(alarm: Alarm, state: _State = "raised") -> tuple[Alarm, Change]:
    """The alarm, to be spoken from now on."""
    spoken = replace(alarm, suppressed=False, shelved_until=None)
    return spoken, Change(alarm.rule, state, alarm.reason)


def deadlines(alarm: Alarm) -> tuple[float, ...]:
    """When time alone changes it: at the end of its shelving [s]."""
    return () if alarm.shelved_until is None else (alarm.shelved_until,)


def acknowledge_alarm(alarm: Alarm, at: float) -> tuple[Alarm, Change]:
    """The alarm, acknowledged by the operator. It stands until it clears."""
    return replace(alarm, acknowledged_at=at), Change(alarm.rule, "acknowledged", alarm.reason)


def shelve_alarm(alarm: Alarm, at: float, reason: str) -> tuple[Alarm, str]:
    """The alarm, shelved, and ""; or the alarm as it was, and why not."""
    if alarm.rule.grade is Grade.DANGER:
        return alarm, "Danger is never put aside."
    if alarm.rule.kind == "overdue":
        return alarm, "Not with steam up. Look, and tell me."
    if alarm.rule.grade is Grade.WARNING:
        return alarm, "A warning stays until it is put right."
    if alarm.shelved_before:
        return alarm, "It was put aside once already."
    if not reason.strip():
        return alarm, "Give a reason."
    shelved = replace(alarm, shelved_until=at + SHELF_S, shelved_before=True, acknowledged_at=at)
    return shelved, ""


def is_shelving_over(alarm: Alarm, at: float) -> bool:
    """Whether it was shelved and its time is over."""
    return alarm.shelved_until is not None and at >= alarm.shelved_until


def count_reading(alarm: Alarm, normal: bool, reading_at: float | None) -> Alarm:
    """The alarm after a new reading: one more that is back to normal, or none in a row."""
    if reading_at is None or reading_at <= alarm.last_reading_at:
        return alarm
    soon = reading_at - alarm.last_reading_at < APART_S
    if normal and alarm.normal_readings and soon and alarm.rule.once_more:
        return alarm  # two calls in one breath are one look
    in_a_row = alarm.normal_readings + 1 if normal else 0
    return replace(alarm, normal_readings=in_a_row, last_reading_at=reading_at)


def count_anew(alarm: Alarm) -> Alarm:
    """The alarm after a reading was taken back, which may have been one of those counted: the last
    that is left counts as the first.
    """
    return replace(alarm, normal_readings=0, last_reading_at=float("-inf"))


def may_clear(alarm: Alarm, normal: bool, one_is_enough: bool = False) -> bool:
    """Enough normal readings in a row, or one where that is enough; or at once where no gauge is
    read for it.
    """
    enough = 1 if one_is_enough else alarm.rule.readings
    return alarm.normal_readings >= enough if alarm.rule.gauge else normal
