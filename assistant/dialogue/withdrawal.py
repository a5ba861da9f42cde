"""A report taken back by name ("the valve did not lift"): asked about first, then out of the log.

What is folded from the log is folded again without it; the book keeps both. A bare "wrong" just
after a grave call takes it back in the same way only: it may have been meant for something else.
"The valve did not lift" takes a report of the valve back only where that is the last of it;
asked whether it moves, or after a valve that was told shut, it is a report.
"""

from __future__ import annotations

from assistant.dialogue import engine_answers
from assistant.dialogue.acceptance import accept, retract
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import hearing, needs, questions
from assistant.dialogue.picture_now import picture_now
from assistant.dialogue.state import Doubt
from assistant.messages import OUT_OF_SIGHT, READINGS, Meaning, ReadingAccepted, Report, Urgency
from assistant.picture.fire import BURNING
from assistant.picture.heat import MOVING
from assistant.picture.lost_water import FAILURES
from assistant.picture.report_log import TimedReport
from assistant.procedure.emergency import EMERGENCY
from assistant.wording import readback

WITHDRAWN = "withdrawn"  # `Report(WITHDRAWN, subject)`
NO_WATER = Report("water", OUT_OF_SIGHT)
GRAVE = FAILURES | {
    "glass broken",
    "someone hurt",
    "somebody is burned",
    "someone is trapped",
    "driver is ill",
    "safety valve is stuck",
    "clack is stuck open",
    "blow down is stuck open",
    "regulator is stuck open",
    "engine is running away",
    "chimney fire",
    "fire outside",
    "steam escaping",
}
# ... and what is told of the boiler and is no emergency, each with its report.
TOLD = {
    "plug weeping": ("firebox", "weeping"),
    "boiler leaking": ("boiler", "leaking"),
    "valve held": ("safety valve", "stuck"),
}
_STATES: dict[str, frozenset[tuple[str, str]]] = {
    "valve": frozenset(("valve", state) for state in MOVING),
    "fire": frozenset(("fire", state) for state in BURNING),
    "feed": frozenset({("feed", "on"), ("bypass", "shut")}),
    **{name: frozenset({(EMERGENCY, name)}) for name in GRAVE},
    OUT_OF_SIGHT: frozenset({("water", OUT_OF_SIGHT)}),
    **{name: frozenset({report}) for name, report in TOLD.items()},
}


def of_grave_call(context: EventContext, report: Report) -> Report | None:
    """What a bare "wrong" to this report means, to be asked about; None: nothing so grave.

    A valve told to move is grave where the gauge contradicts it.
    """
    if (report.what, report.value) in _STATES["valve"] and picture_now(context).gauge.conflict:
        return Report(WITHDRAWN, "valve")
    for name, told in TOLD.items():
        if told == (report.what, report.value):
            return Report(WITHDRAWN, name)
    grave = report.what == EMERGENCY and report.value in GRAVE
    return Report(WITHDRAWN, report.value) if grave or report == NO_WATER else None


def grave_call_kept(meaning: Meaning) -> str:
    """The grave call that stands where this was not meant, in words; empty: it is of none."""
    if not isinstance(meaning, Report) or meaning.what != WITHDRAWN:
        return ""
    calls = {name: name for name in (*GRAVE, *TOLD)}
    calls |= {OUT_OF_SIGHT: "water out of sight", "valve": "valve moving"}
    return calls.get(str(meaning.value), "")


def is_asked(context: EventContext) -> bool:
    """Whether it is asked just now if a grave call is to be taken back."""
    doubt = context.state.doubt
    return doubt is not None and bool(grave_call_kept(doubt.meaning))


def withdraw(context: EventContext, report: Report) -> None:
    """Ask whether it is meant; after the yes take the last such report back."""
    if report.value == "valve" and _valve_is_still(context):
        accept(context, (engine_answers.SHUT,))
        return
    last = _last_of(context, str(report.value))
    if last is None:
        context.record(ReadingAccepted(report))
        context.say(readback.nothing_to_take_back(), Urgency.ANSWER)
        return
    doubt = context.before.doubt
    if doubt is None or doubt.meaning != report:
        questions.doubt(context, Doubt(report, "a report is taken back", context.at))
        context.say(readback.confirm(report, context.dial), Urgency.ANSWER)
        return
    context.record(ReadingAccepted(report))
    retract(context, which=last)
    while last.report.what == EMERGENCY and (same := _last_of(context, str(report.value))):
        retract(context, which=same)  # called twice, it is one call
    context.say(readback.taken_back(last.report, context.dial), Urgency.ANSWER)
    if last.report.what in READINGS:
        hearing.deny(context, (last.report,))
        needs.put(context, last.report.what, last.report.what, again=False)
        context.say(readback.wrong_then(last.report.what), Urgency.ANSWER)


def _valve_is_still(context: EventContext) -> bool:
    """Whether "it did not lift" tells of now: asked for, or with no movement to be taken back."""
    latest = context.state.latest("valve")
    moved = latest is not None and latest.report.value in MOVING
    return engine_answers.valve_is_asked(context) or not moved


def _last_of(context: EventContext, subject: str) -> TimedReport | None:
    states = _STATES.get(subject, frozenset())
    newest_first = reversed(context.state.reports)
    return next((t for t in newest_first if (t.report.what, t.report.value) in states), None)
