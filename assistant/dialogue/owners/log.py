"""Owner of `state.reports`: every report that is believed, in order."""

from __future__ import annotations

from dataclasses import replace

from assistant.dialogue.event_context import EventContext
from assistant.dialogue.state import SessionState
from assistant.picture.report_log import ReportLog, TimedReport


def add(context: EventContext, timed: TimedReport) -> None:
    """One more report."""
    context.become(replace(context.state, reports=context.state.reports.and_one(timed)))


def remove(context: EventContext, gone: TimedReport) -> None:
    """The log without one report: what is folded from it is folded again."""
    reports = ReportLog(timed for timed in context.state.reports if timed is not gone)
    context.become(replace(context.state, reports=reports))


def undo_all_but_reports(context: EventContext, before: SessionState) -> None:
    """After a part that failed: the state before it, with every report that was taken."""
    taken = context.state.reports
    context.become(before)
    context.become(replace(context.state, reports=taken))
