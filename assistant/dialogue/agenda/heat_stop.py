"""Whether something that stands has told to stop the heat: then nothing of ours puts heat on.

Knows the alarms that stand, their acts, and the list in hand; speaks nothing. Common practice, no
source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from assistant.alarms.lifecycle import Alarm
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.messages import Grade, Report
from assistant.picture.heat import DRAUGHT
from assistant.procedure import remedies
from assistant.wording.quantities import sentences

STOPS = re.compile(
    r"\b(blower shut|damper and blower shut|stop the heat|no firing|let the fire die|no fire)\b",
    re.IGNORECASE,
)
DAMPER_ALONE = re.compile(r"\bdamper shut, no firing\b", re.IGNORECASE)  # leaves the blower on
DAMPER_SHUT = re.compile(r"\bdamper shut\b", re.IGNORECASE)  # among the acts of an emergency
ON_AGAIN = re.compile(r"\b(blower on|blower a crack|damper open|open the damper)\b", re.IGNORECASE)
NOT_TO_BE_HEATED = frozenset({"gauge and valve unsettled", "not to be steamed"})  # alarms after one
HELD_BY = frozenset(
    {remedies.GAUGE_TROUBLE, "glass_trouble"}
)  # lists: the heat stays off till the end
LET_DIE = "let the fire die"
EASES = frozenset({"blower left on", "pressure falling", "rising too fast"})
# alarms: what they ask of blower and damper is less than stopping the heat, or against it


def told(context: EventContext) -> bool:
    """Whether an alarm that stands, or the list in hand, has told to stop the heat."""
    return is_held(context) or any(map(STOPS.search, _told(context)))


def wants_no_fire(alarm: Alarm) -> bool:
    """Whether it is graver than a caution, and has the heat stopped or the fire let die."""
    words = alarm.rule.grade > Grade.CAUTION and STOPS.search(alarm.rule.text)
    return bool(words) or alarm.name in NOT_TO_BE_HEATED


def is_held(context: EventContext) -> bool:
    """Whether a list in hand keeps the heat off, or an alarm that stands and does not say so."""
    unfit = context.state.watch.stands(*NOT_TO_BE_HEATED)
    return unfit or not HELD_BY.isdisjoint(context.state.lists_in_hand)


def left(context: EventContext) -> str:
    """What of stopping the heat was not told to be done, as acts; empty: nothing. A blower that
    nobody told of is not shut; beside one that is stuck the fire itself is to be let die.
    """
    seen, fittings = picture_now(context), context.config.fittings_missing
    if seen.fire.out:
        return ""
    open_ = [] if seen.damper.value == "shut" else ["damper"]
    if "blower" not in fittings and seen.blower.value != "shut":
        open_.append("blower")
    can = [part for part in open_ if part not in stuck(context)]
    return ", ".join(f"{part} shut" for part in can) or (LET_DIE if open_ else "")


def stuck(context: EventContext) -> frozenset[str]:
    """Of blower and damper, what was told not to shut, and not told shut since."""
    return picture_now(context).stuck


def says_more(context: EventContext, name: str) -> bool:
    """Whether the heat is told to be stopped, and this alarm only has it eased or urged."""
    return name in EASES and told(context)


def told_of_the_blower(context: EventContext) -> bool:
    """Whether an alarm says it in words, and not of the damper alone: no more needs be said."""
    return any(STOPS.search(DAMPER_ALONE.sub("", text)) for text in _told(context))


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
    shut = isinstance(report, Report) and report.what in DRAUGHT and report.value == "shut"
    return shut and told(context)


def acts(context: EventContext, text: str) -> str:
    """The acts of an emergency; without those that put heat on, where another stops it."""
    if not told(context):
        return text
    return " ".join(each for each in sentences(text) if not ON_AGAIN.search(each))
