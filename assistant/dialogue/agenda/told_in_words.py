"""A gauge was told of in words without a figure, or she stands where no level is one: ask at once.

Speaks nothing; knows no alarm.
"""

from __future__ import annotations

import math

from assistant.alarms.water_rules import hot
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import hearing
from assistant.dialogue.picture_now import picture_now
from assistant.grammar.readings import NO_WATER_SEEN
from assistant.picture.slope import SLOPE_S
from assistant.procedure.checklist import Phase
from assistant.procedure.emergency import EMERGENCY, OVER
from assistant.understanding.meanings import reports_in
from assistant.wording import engine_words, readback

WATER, PRESSURE, STANDS, BLOW_DOWN = "water told", "pressure told", "stands", "blow-down"
LETS_WATER_OUT = frozenset({"blow down is stuck open", "clack is stuck open"})  # calls
ON_A_SLOPE = frozenset({"nose up", "nose down", "on a slope"})


def words(context: EventContext, gauge: str) -> str:
    """The words in which the gauge is asked for; empty where none was told of since it was read."""
    if gauge == "pressure":
        asked = context.state.doubt is not None  # the doubt itself asks
        return readback.ask_for(gauge) if _pressure_told(context) and not asked else ""
    return _level_words(context, _read_at(context, gauge))


def _level_words(context: EventContext, since: float) -> str:
    state = context.state
    stood = [str(timed.report.value) for timed in state.reports.of(STANDS)]
    stands_since = _told_since(context, STANDS, since)
    if stands_since and stood[-1] in ON_A_SLOPE:
        return engine_words.stand_her_level(nose_down=stood[-1] == "nose down")
    level_again = stands_since and not ON_A_SLOPE.isdisjoint(stood)
    told = level_again or _told_since(context, WATER, since) or _shut_since(context, since)
    told = told or _water_went(context)
    return readback.ask_for("water") if told else ""


def leaves_open(context: EventContext) -> bool:
    """Whether what was told leaves open how she is: the list waits until it is called."""
    return (
        stands_nose_down(context)
        or fall_is_open(context)
        or _pressure_is_open(context)
        or _water_went(context)
        or _valve_is_awaited(context)
    )


def asks_whether_water_is_gone(context: EventContext) -> bool:
    """Whether no water in sight was heard, and is being asked about."""
    doubt = context.state.doubt
    return doubt is not None and NO_WATER_SEEN in reports_in(doubt.meaning)


def asks_of_a_call(context: EventContext) -> bool:
    """Whether a danger called by name was heard, and is being asked about."""
    doubt = context.state.doubt
    reports = () if doubt is None else reports_in(doubt.meaning)
    return any(r.what == EMERGENCY and r.value != OVER for r in reports)


def water_may_be_gone(context: EventContext) -> bool:
    """The same, or it was never answered and no level was called since."""
    told = hearing.latest(context, WATER)
    low = told is not None and told.report == hearing.TOLD_LOW
    unread = told is not None and told.at > _read_at(context, "water")
    return asks_whether_water_is_gone(context) or (low and unread)


def _valve_is_awaited(context: EventContext) -> bool:
    """Whether steam is raised, the gauge is at the lift or over it, and the valve was not told to
    move there.
    """
    valve = picture_now(context).valve
    raising = context.state.phase is Phase.RAISING_STEAM
    return raising and valve.value == "overdue" and valve.over_lift


def stands_nose_down(context: EventContext) -> bool:
    """Whether over heat she stands nose down, by what was told, and was not stood level since: no
    level called there covers the crown.
    """
    stood = context.state.reports.of(STANDS)
    if not stood or stood[-1].report.value != "nose down":
        return False
    return hot(picture_now(context)) and not context.elapsed(stood[-1].at, SLOPE_S)


def _pressure_is_open(context: EventContext) -> bool:
    """Whether over heat the pressure was told to rise or fall, and was not called since."""
    return _pressure_told(context) in ("rising", "falling") and hot(picture_now(context))


def _water_went(context: EventContext) -> bool:
    """Whether over heat a call of what lets water out is over, and no level was called since."""
    calls = context.state.reports.of("emergency")
    if len(calls) < 2 or calls[-1].report.value != OVER or not hot(picture_now(context)):
        return False
    went = next((t for t in reversed(calls) if t.report.value != OVER), None)
    unread = _read_at(context, "water") <= calls[-1].at
    return went is not None and went.report.value in LETS_WATER_OUT and unread


def fall_is_open(context: EventContext) -> bool:
    """Whether a fall of the gauge was heard that nothing explains, and it was not called since."""
    return _pressure_told(context) == "fallen"


def _pressure_told(context: EventContext) -> str:
    """What was told of the pressure in words since it was last called; empty: nothing."""
    told = hearing.latest(context, PRESSURE)
    since = _read_at(context, "pressure")
    return str(told.report.value) if told is not None and told.at > since else ""


def _read_at(context: EventContext, gauge: str) -> float:
    """When the gauge was last called [s]; minus infinity: never."""
    read = context.state.latest(gauge)
    return -math.inf if read is None else read.at


def _told_since(context: EventContext, subject: str, since: float) -> bool:
    told = hearing.latest(context, subject)
    return told is not None and told.at > since


def _shut_since(context: EventContext, since: float) -> bool:
    """Whether she was blown down, and the blow-down was told shut after the last level."""
    told = context.state.reports.of(BLOW_DOWN)
    opened = len(told) > 1 and told[-2].report.value == "open"
    return opened and told[-1].report.value == "shut" and told[-1].at > since


def now(context: EventContext, gauge: str) -> bool:
    """Whether it was told in this event."""
    just = (PRESSURE,) if gauge == "pressure" else (WATER, STANDS, BLOW_DOWN, "emergency")
    return any(report.what in just for report in context.accepted)
