"""Owner of `state.reports`: every report that is believed, in order."""

from __future__ import annotations

from dataclasses import replace

from assistant.dialogue.event_context import EventContext
from assistant.picture.report_log import ReportLog, TimedReport


def add(context: EventContext, timed: TimedReport) -> None:
    """One more report."""
    context.become(replace(context.state, reports=context.state.reports.and_one(timed)))


def remove(context: EventContext, gone: TimedReport) -> None:
    """The log without one report: what is folded from it is folded again."""
    reports = ReportLog(timed for timed in context.state.reports if timed is not gone)
    context.become(replace(context.state, reports=reports))


def keep(context: EventContext, reports: ReportLog) -> None:
    """The reports that were taken before a part failed are not lost with it."""
    context.become(replace(context.state, reports=reports))
