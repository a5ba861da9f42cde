"""Which acts of a danger were reported: then it is said less often. Speaks nothing.

Knows the reports since it was raised, and what of its acts is a state that holds.
"""

from __future__ import annotations

from assistant.alarms.lifecycle import Alarm
from assistant.dialogue.agenda import beside, danger_words, heat_stop, level_unknown, water_forbids
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.messages import Grade, Report
from assistant.picture.glass import BROKEN, COCKS_SHUT
from assistant.picture.glass_history import PROVED_BY
from assistant.procedure.checklist import Phase

OVERDUE = {
    "water not read": "water",
    "water reading overdue": "water",
    "pressure reading overdue": "pressure",
    "gauge not read at the valve": "pressure",
    "valve over an unread gauge": "pressure",
}  # alarms that are a question for a reading, grown late
DRIVER_ILL, ON_WATCH = "driver is ill", "on watch"  # the call, and who takes her over
NOBODY = "nobody answers"  # never takes the place of "stop the heat"
OPENED = Report("regulator", "open")
STOPPED = frozenset({("damper", "shut"), ("fire", "drawn"), ("fire", "dead"), ("fire", "run down")})
STUCK_OPEN = frozenset({"regulator is stuck open"})
ACTS_OF = {
    ("engine", "stopped"): STUCK_OPEN,
    ("reverser", "mid gear"): STUCK_OPEN,
    ("firehole", "shut"): frozenset({beside.FLAMES}),
}  # acts of some dangers only
HEATED = frozenset(
    {("fire", "lit"), ("fire", "built"), ("fire", "coal"), ("regulator", "open")}
    | {(part, state) for part in ("blower", "damper") for state in ("open", "half")}
)  # what must not be done while a danger stands
HEATS = HEATED | {("fire", "bright")}  # this is no act, but the heat that was stopped is on again
MOTION = frozenset(
    {"motion", "people near", "priming"}
)  # groups whose first act shuts the regulator
HEAT = frozenset({"blower", "damper"})


def acted(context: EventContext, alarm: Alarm) -> bool:
    """Whether its first acts were reported since it was raised, or the operator has answered."""
    if alarm.rule.kind == "overdue":
        return False
    if danger_words.heat_is_over(context, alarm.rule):
        return True
    acknowledged = alarm.acknowledged_at is not None
    if alarm.name == beside.UNWATCHED:
        return acknowledged
    if alarm.rule.grade is not Grade.DANGER and alarm.rule.group != water_forbids.NO_FEED:
        shut = picture_now(context).motion.regulator.value == "shut"
        return acknowledged or (shut and alarm.rule.group in MOTION)
    since = water_forbids.acts_count_from(alarm)
    later = [t.report for t in context.state.reports if t.at >= since]
    glass = {r.value for r in later if r.what == "glass"}
    if alarm.name == DRIVER_ILL and any(report.what == ON_WATCH for report in later):
        return True
    if alarm.name == water_forbids.DOUBTED and not PROVED_BY.isdisjoint(glass):
        return True
    if alarm.name == BROKEN and COCKS_SHUT in later:
        return True
    if alarm.name == level_unknown.NAME:
        return picture_now(context).heat_stopped
    heating = [(r, heats(r, alarm, context)) for r in later]
    acts = [heat for r, heat in heating if heat or _stops(r, alarm)]
    if acts and not acts[-1] and alarm.rule.act == danger_words.STOP:
        return acknowledged or not (heat_stop.left(context) or _draws_steam(context, alarm))
    return not acts[-1] if acts else acknowledged


def _draws_steam(context: EventContext, alarm: Alarm) -> bool:
    """Whether she is worked on beside a danger of low water."""
    low = alarm.rule.group == danger_words.WATER_LOW
    return low and picture_now(context).motion.worked


def _stops(report: Report, alarm: Alarm) -> bool:
    """Whether it is an act of that danger."""
    told = (report.what, str(report.value))
    if told == ("blower", "shut"):
        return alarm.rule.act == danger_words.STOP
    return told in STOPPED or alarm.name in ACTS_OF.get(told, ())


def heats(report: Report, alarm: Alarm, context: EventContext) -> bool:
    """Whether it puts heat on, or takes steam: but not where she turns for her pump."""
    if alarm.name == beside.FLAMES and report.what in HEAT:
        return False  # the draught takes the flames in again
    turns = report == OPENED and context.state.phase is Phase.PUMPING
    for_the_pump = turns and alarm.rule.group == water_forbids.NO_FEED
    return (report.what, report.value) in HEATS and not for_the_pump


def acts_wait(context: EventContext) -> bool:
    """Whether a danger that was seen, or a fire over water unseen, still wants its first acts."""
    return any(
        alarm.rule.grade is Grade.DANGER and alarm.name != NOBODY and not acted(context, alarm)
        for alarm in context.state.watch.spoken()
        if alarm.name not in OVERDUE
    )
