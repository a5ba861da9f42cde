"""A clack that is stuck open: no feed is asked for, and water that falls there is worse. Speaks
nothing.

Knows whether that danger stands and the levels called about it.
"""

from __future__ import annotations

from assistant.alarms.condition import GRAIN
from assistant.alarms.lifecycle import Alarm
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.messages import Report
from assistant.procedure.scale import measure

NAME = "clack is stuck open"
FALLING = ", water falling"  # added to its name once that is so: then it is said anew
NEAR_THE_MARK = "water near the lower mark"
FED = frozenset({Report("feed", "on"), Report("bypass", "shut"), Report("injector", "works")})


def stands(context: EventContext) -> bool:
    """Whether that danger stands."""
    return context.state.watch.stands(NAME)


def fallen(context: EventContext) -> bool:
    """Whether the last level is lower than when it was called."""
    called = next((a.raised_at for a in context.state.watch.alarms if a.name == NAME), None)
    if called is None:
        return False
    engine, waters = context.config.engine, context.state.reports.of("water")
    since = [measure(t.report, engine) for t in waters if t.at > called]
    before = [measure(t.report, engine) for t in waters if t.at <= called][-1:]
    levels = [level for level in (*before, *since) if level is not None]
    return len(levels) > 1 and levels[-1] < levels[0] - GRAIN


def words(context: EventContext, alarm: Alarm) -> str:
    """What is said of it: the pump; later, with water lost by it or near the mark, the heat."""
    if picture_now(context).fire.out:
        return alarm.rule.with_act("no heat, keep away")
    near = context.state.watch.stands(NEAR_THE_MARK)
    if alarm.raised_at >= context.at or not (near or fallen(context)):
        return alarm.rule.text
    about = "water near the lower mark" if near else "water falling"
    return alarm.rule.with_act("no feed. Stop the heat. Everybody away", about)


def fed(context: EventContext) -> bool:
    """Whether a feed was just reported on."""
    return any(report in FED for report in context.accepted)
