"""Owner of `state.hearing`: what is listened for, and what was heard badly."""

from __future__ import annotations

from dataclasses import replace

from assistant.dialogue.event_context import EventContext
from assistant.dialogue.state import Hearing
from assistant.dialogue.wake_state import WakeState
from assistant.messages import Expected, Report
from assistant.picture.report_log import TimedReport
from assistant.understanding.retries import Evidence

TOLD_LOW = Report("water told", "going down")  # for a low level that is not settled


def _put(context: EventContext, hearing: Hearing) -> None:
    context.become(replace(context.state, hearing=hearing))


def listen_for(context: EventContext, expected: Expected) -> None:
    """What is listened for from now on."""
    with_note = replace(expected, note=context.state.question.note_expected)
    if with_note != context.state.hearing.expected:
        _put(context, replace(context.state.hearing, expected=with_note))


def understood(context: EventContext) -> None:
    """An utterance was understood."""
    if context.state.hearing.misses:
        _put(context, replace(context.state.hearing, misses=0))


def came_back(context: EventContext) -> None:
    """He would be heard again from now on."""
    _put(context, replace(context.state.hearing, back_at=context.at))


def missed(context: EventContext) -> None:
    """One more utterance in a row was not understood."""
    hearing = context.state.hearing
    _put(context, replace(hearing, misses=hearing.misses + 1))


def keep_evidence(context: EventContext, evidence: Evidence | None) -> None:
    """What the tries at one answer may have been."""
    if evidence is not context.state.hearing.evidence:
        _put(context, replace(context.state.hearing, evidence=evidence))


def deny(context: EventContext, reports: tuple[Report, ...]) -> None:
    """The operator called these wrong; what he called wrong of other gauges is so still."""
    hearing, subjects = context.state.hearing, {report.what for report in reports}
    before = (report for report in hearing.denied if report.what not in subjects)
    _put(context, replace(hearing, denied=(*reports, *before), denied_at=context.at))


def leave_unsettled(context: EventContext, report: Report) -> None:
    """Remember what was heard and is not settled: no report of a gauge, and in no book as one."""
    kept = (t for t in context.state.hearing.unsettled if t.report.what != report.what)
    unsettled = (*kept, TimedReport(report, context.at))
    _put(context, replace(context.state.hearing, unsettled=unsettled))


def latest(context: EventContext, subject: str) -> TimedReport | None:
    """What was last told of a subject, or heard of it and not settled."""
    heard = (t for t in context.state.hearing.unsettled if t.report.what == subject)
    told = (context.state.latest(subject), *heard)
    return max((t for t in told if t is not None), key=lambda t: t.at, default=None)


def allow(context: EventContext, subject: str) -> None:
    """A report of this subject was accepted: its denial is over."""
    hearing = context.state.hearing
    denied = tuple(report for report in hearing.denied if report.what != subject)
    if denied != hearing.denied:
        _put(context, replace(hearing, denied=denied))


def set_wake(context: EventContext, wake: WakeState | None) -> None:
    """The wake gate."""
    if wake != context.state.hearing.wake:
        _put(context, replace(context.state.hearing, wake=wake))
