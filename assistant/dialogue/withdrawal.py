"""A report taken back by name ("the valve did not lift"): asked about first, then out of the log.

Asked whether the valve moves, "it did not lift" is the answer to that, and takes nothing back.
What is folded from the log is folded again without it; the book keeps both. No water in sight is
never taken back: that is ended by a person who has looked at the boiler.
"""

from __future__ import annotations

from assistant.dialogue import engine_answers
from assistant.dialogue.acceptance import accept, retract
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import questions
from assistant.dialogue.state import Doubt
from assistant.messages import ReadingAccepted, Report, Urgency
from assistant.picture.fire import BURNING
from assistant.picture.heat import MOVING
from assistant.picture.report_log import TimedReport
from assistant.wording import readback

WITHDRAWN = "withdrawn"  # `Report(WITHDRAWN, subject)`
_STATES: dict[str, frozenset[tuple[str, str]]] = {
    "valve": frozenset(("valve", state) for state in MOVING),
    "fire": frozenset(("fire", state) for state in BURNING),
    "feed": frozenset({("feed", "on"), ("bypass", "shut")}),
}


def withdraw(context: EventContext, report: Report) -> None:
    """Ask whether it is meant; after the yes take the last such report back."""
    if report.value == "valve" and engine_answers.valve_is_asked(context):
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
    context.say(readback.taken_back(last.report, context.dial), Urgency.ANSWER)


def _last_of(context: EventContext, subject: str) -> TimedReport | None:
    states = _STATES.get(subject, frozenset())
    newest_first = reversed(context.state.reports)
    return next((t for t in newest_first if (t.report.what, t.report.value) in states), None)
