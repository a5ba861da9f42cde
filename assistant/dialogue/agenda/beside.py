"""How an alarm stands beside the others and its own readings: silenced, better once, renewed.

Knows alarms and readings; no rank and no words.
"""

from __future__ import annotations

from assistant.alarms.lifecycle import Alarm
from assistant.dialogue.agenda import danger_acts, heat_stop, level_unknown
from assistant.dialogue.agenda.water_forbids import NO_FEED, NOT_STEAMED, no_feed
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.messages import Grade
from assistant.picture.glass import BROKEN

STUCK = "safety valve is stuck"
ONE_FEED = frozenset({"feed dead", "water falling with feed on"})
NOT_GAINED = "feed dead"  # said once where no feed works
LOOK_NOW = "water perhaps low"
# Dangers in which nobody is sent to look at the glass.
BOILER_FAILED = (
    "plug has gone",
    "tube has burst",
    "water in the firebox",
    "plate is red hot",
    "steam escaping",
    "engine is over",
)
GOES_BEFORE = {
    "no feed": ("water low",),
    "valve silent": ("pressure high", STUCK),
    "leak": ("water low", "blow down is stuck open", *BOILER_FAILED),
    "valve blows": (STUCK,),
    "motion": ("regulator is stuck open",),
    "people near": ("regulator is stuck open",),
}
# groups of which a graver alarm silences the other's
DIFFER = frozenset({"valve over a dead gauge", "gauge and valve disagree"})
HEATED_UNFIT = "heat in an unfit boiler"
FIRED = frozenset({"fire after lost water", "fire after a failure"})  # tell of a new fire
PEOPLE_NEAR = "regulator open, people near"
NOT_PROVED = "glass not proved"
FLAMES = "flames out of the firehole"
UNWATCHED = "nobody watches her"
FEED_NOW = "water near the lower mark"
NEAR_THE_MARK = "feed fails near the mark"  # says more than that it fails


def silenced(context: EventContext, alarm: Alarm) -> bool:
    """Whether a graver alarm that stands says all that it would say."""
    if alarm.name in ONE_FEED and (
        no_feed_told(context, Grade.DANGER) or context.state.watch.says(NEAR_THE_MARK)
    ):
        return True
    if alarm.name in heat_stop.EASES and context.state.watch.stands(FLAMES):
        return True  # nobody is sent to look into the fire
    if heat_stop.says_more(context, alarm.name):
        return True
    if alarm.rule.group == "motion" and context.state.watch.says(PEOPLE_NEAR):
        return True  # the same act, and the graver reason
    if alarm.name == NOT_STEAMED and context.state.watch.stands(HEATED_UNFIT):
        return True
    if alarm.name == HEATED_UNFIT and context.state.watch.stands(*FIRED):
        return True
    if alarm.name == UNWATCHED and danger_acts.everybody_is_away(context):
        return True
    if alarm.name == FEED_NOW and boiler_failed(context):
        return True  # nobody is sent to a pump beside her
    if alarm.name == FEED_NOW and (no_feed(context) or context.state.watch.says(NEAR_THE_MARK)):
        return True
    if alarm.name == LOOK_NOW and boiler_failed(context):
        return True
    if alarm.name == BROKEN and level_unknown_says_more(context):
        return True
    if alarm.name == NOT_PROVED and context.state.watch.says(level_unknown.NAME):
        return True
    return _graver_stands(context, alarm)


def boiler_failed(context: EventContext) -> bool:
    """Whether steam or water comes out where it must not: nobody goes near to look at the glass."""
    return context.state.watch.stands(*BOILER_FAILED)


def level_unknown_says_more(context: EventContext) -> bool:
    """Whether the glass is shut off and only what it showed is missed."""
    seen = picture_now(context).glass
    return seen.cocks_shut and context.state.watch.says(level_unknown.NAME)


def better_once(context: EventContext, alarm: Alarm) -> bool:
    """Whether the last reading was good, and one does not end it."""
    good = bool(alarm.rule.once_more) and alarm.normal_readings > 0
    return good and alarm.rule.normal(context.alarm_inputs, context.at)


def renewed(context: EventContext, alarm: Alarm) -> bool:
    """Whether a reading just called, or a valve that now lifts, meets the condition anew."""
    if alarm.name in DIFFER and alarm.raised_at < context.at and _lifts_now(context):
        return True
    called = any(report.what == alarm.rule.gauge for report in context.accepted)
    if not called or not alarm.rule.renewed or alarm.raised_at >= context.at:
        return False
    return alarm.rule.condition(context.alarm_inputs, context.at) is not None


def _lifts_now(context: EventContext) -> bool:
    """Whether the valve goes from feathering to lifting by what was just told."""
    if not any((r.what, r.value) == ("valve", "lifting") for r in context.accepted):
        return False
    told = [timed.report.value for timed in context.state.reports.of("valve")]
    return told[-2:] == ["feathering", "lifting"]


def no_feed_told(context: EventContext, grade: Grade) -> bool:
    """Whether it is said, in this grade at least, that no feed works: more than that one fails."""
    group = (a.rule for a in context.state.watch.spoken() if a.rule.group == NO_FEED)
    return any(rule.grade >= grade for rule in group)


def _graver_stands(context: EventContext, alarm: Alarm) -> bool:
    """Whether a graver alarm of its group stands, or of one that goes before it."""
    groups = {alarm.rule.group, *GOES_BEFORE.get(alarm.rule.group, ())}
    return any(
        other.rule.group in groups and other.rule.grade > alarm.rule.grade
        for other in context.state.watch.spoken()
    )
