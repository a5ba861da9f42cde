"""Whether something that stands has told to stop the heat: then nothing of ours puts heat on.

Knows the alarms that stand, their acts, and the list in hand; speaks nothing. Common practice, no
source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from assistant.dialogue.event_context import EventContext
from assistant.messages import Grade, Report

STOPS = re.compile(
    r"\b(blower shut|damper and blower shut|stop the heat|no firing|let the fire out|no fire)\b",
    re.IGNORECASE,
)
DAMPER_ALONE = re.compile(r"\bdamper shut, no firing\b", re.IGNORECASE)  # leaves the blower on
DAMPER_SHUT = re.compile(r"\bdamper shut\b", re.IGNORECASE)  # among the acts of an emergency
ON_AGAIN = re.compile(r"\b(blower on|blower a crack|damper open|open the damper)\b", re.IGNORECASE)
NOT_TO_BE_HEATED = frozenset({"gauge and valve unsettled", "not to be steamed"})  # alarms after one
HELD_BY = frozenset({"gauge_trouble", "glass_trouble"})  # lists: the heat stays off till the end
AIR = frozenset({"blower", "damper"})


def told(context: EventContext) -> bool:
    """Whether an alarm that stands, or the list in hand, has told to stop the heat."""
    if not HELD_BY.isdisjoint(_lists(context)) or not_to_be_heated(context):
        return True
    return any(map(STOPS.search, _told(context)))


def told_of_the_blower(context: EventContext) -> bool:
    """Whether it was said in words, and not of the damper alone: nothing more needs be said."""
    if not HELD_BY.isdisjoint(_lists(context)):
        return True
    return any(STOPS.search(DAMPER_ALONE.sub("", text)) for text in _told(context))


def not_to_be_heated(context: EventContext) -> bool:
    """Whether an alarm stands that follows on one that stopped the heat, and does not say it."""
    return context.state.watch.stands(*NOT_TO_BE_HEATED)


def _lists(context: EventContext) -> set[str]:
    work = context.state.procedure
    return {each.checklist.name for each in (work.progress, *work.parked)}


def _told(context: EventContext) -> Iterator[str]:
    """What the alarms that stand say, and the acts of their emergencies."""
    file = context.config.emergencies
    for alarm in context.state.watch.alarms:
        if alarm.name in NOT_TO_BE_HEATED:
            continue
        if alarm.rule.grade > Grade.CAUTION:
            yield alarm.rule.text
            emergency = file.for_alarm(alarm.name) if file is not None else None
            acts = " ".join(emergency.acts) if emergency is not None else ""
            yield "stop the heat" if DAMPER_SHUT.search(acts) else acts


def keeps_shut(context: EventContext, report: object) -> bool:
    """Whether blower or damper was shut, as was told: no list has it opened again."""
    shut = isinstance(report, Report) and report.what in AIR and report.value == "shut"
    return shut and told(context)


def acts(context: EventContext, text: str) -> str:
    """The acts of an emergency; without those that put heat on, where another stops it."""
    if not told(context):
        return text
    sentences = (each.strip() for each in re.findall(r"[^.?!]+[.?!]", text))
    return " ".join(each for each in sentences if not ON_AGAIN.search(each))
