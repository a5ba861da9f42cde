"""Accepting reports and retracting them: in the journal, in the belief, and read back."""

from __future__ import annotations

from assistant.belief import estimate
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.plausibility import as_feed
from assistant.dialogue.state import SessionState
from assistant.messages import ReadingAccepted, ReadingCorrected, Report, Urgency
from assistant.picture.report_log import ReportLog, TimedReport
from assistant.procedure.position import Progress
from assistant.wording import readback


def accept(context: EventContext, reports: tuple[Report, ...]) -> None:
    """Accept reports: record them, update the belief, read them back."""
    for report in reports:
        context.record(ReadingAccepted(report))
        enter(context, report, context.at)
    # named by the engine's own dial: another unit is always said, it may have been misheard
    context.say(readback.read_back_several(reports, context.config.dial), Urgency.ANSWER)


def enter(context: EventContext, report: Report, at: float) -> None:
    """Add a report made at a time to the log and the belief; what it answers is closed."""
    before, timed = context.state, TimedReport(report, at)
    context.update(
        belief=estimate.update(before.belief, as_feed(report), at),
        reports=before.reports.and_one(timed),
        progress_before=(*before.progress_before, (timed, before.progress)),
        doubt=None,
        misses=0,
        denied=tuple(r for r in before.denied if r.what != report.what),
        reading_asked=None if before.reading_asked == report.what else before.reading_asked,
        dial=(report.unit if report.what == "pressure" else None) or before.dial,
    )
    context.accepted.append(report)


def retract(
    context: EventContext, instead: Report | None = None, which: TimedReport | None = None
) -> TimedReport:
    """Retract the last report, or `which`; the journal keeps both. Returns the retracted one.

    What the list made of it is undone when nothing was said since.
    """
    state = context.state
    last = which or state.reports[-1]
    newest = last is state.reports[-1]
    earlier = progress_before(state, last)
    same_list = newest and earlier.checklist == state.progress.checklist
    context.update(
        belief=estimate.retracted(state.belief, as_feed(last.report), last.at),
        progress=earlier if same_list else state.progress,
        reports=ReportLog(timed for timed in state.reports if timed is not last),
        progress_before=tuple(pair for pair in state.progress_before if pair[0] is not last),
        step_asked_times=0 if newest else state.step_asked_times,
    )
    context.record(ReadingCorrected(last.report, instead))
    context.retracted.append(last.report.what)
    return last


def progress_before(state: SessionState, timed: TimedReport) -> Progress:
    """How far the list had come just before a report."""
    return next(progress for report, progress in state.progress_before if report is timed)


def undo(context: EventContext) -> None:
    """Retract the last report, and say so."""
    if not context.state.reports:
        context.say(readback.nothing_to_take_back(), Urgency.ANSWER)
        return
    last = retract(context)
    context.say(readback.taken_back(last.report, context.state.dial), Urgency.ANSWER)
