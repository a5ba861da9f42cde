"""Owner of `state.procedure`: phase, list in hand, interrupted list, steps offered."""

from __future__ import annotations

from dataclasses import replace

from assistant.dialogue.event_context import EventContext
from assistant.dialogue.state import Procedure
from assistant.picture.report_log import TimedReport
from assistant.procedure import lapsing
from assistant.procedure.checklist import Phase, Step
from assistant.procedure.position import Progress


def _put(context: EventContext, procedure: Procedure) -> None:
    context.become(replace(context.state, procedure=procedure))


def come_to(context: EventContext, progress: Progress) -> None:
    """How far the list in hand has come now."""
    if progress is not context.state.progress:
        _put(context, replace(context.state.procedure, progress=progress))


def begin_phase(context: EventContext, phase: Phase, progress: Progress) -> None:
    """Another phase, with its list."""
    work = context.state.procedure
    _put(context, replace(work, phase=phase, progress=progress, offered=None))


def go_back_to(context: EventContext, phase: Phase, progress: Progress) -> None:
    """A phase and list as they were before a move or remedy that was taken back."""
    _put(context, replace(context.state.procedure, phase=phase, progress=progress, parked=()))


def interrupt(context: EventContext, progress: Progress) -> None:
    """Begin the list of a remedy; the list in hand waits."""
    work = context.state.procedure
    parked = work.parked or (work.progress,)
    _put(context, replace(work, parked=parked, progress=progress))


def resume_list(context: EventContext) -> None:
    """Go back to the list that a remedy interrupted."""
    work = context.state.procedure
    _put(context, replace(work, progress=work.parked[0], parked=()))


def carry_to_parked(context: EventContext, step: Step) -> None:
    """A step left open in a list of questions is an open item of the list that waits behind it."""
    work = context.state.procedure
    (waiting, *others) = work.parked
    waiting = replace(
        waiting,
        steps=(*waiting.steps, step),
        skipped=(*waiting.skipped, step.id),
        unanswered=(*waiting.unanswered, step.id),
    )
    _put(context, replace(work, parked=(waiting, *others)))


def open_again(context: EventContext, since: float) -> None:
    """In the list in hand and in those that wait: what was told up to then [s] is asked anew."""
    work = context.state.procedure
    progress = lapsing.asked_anew(work.progress, since)
    parked = tuple(lapsing.asked_anew(each, since) for each in work.parked)
    _put(context, replace(work, progress=progress, parked=parked))


def take_over(context: EventContext, since: float) -> None:
    """The engine is warm already, and known to be so since then [s]."""
    _put(context, replace(context.state.procedure, warm_since=since))


def offer(context: EventContext, step_id: str) -> None:
    """A step was offered as work for the waiting time."""
    _put(context, replace(context.state.procedure, offered=step_id))


def remember_before(context: EventContext, timed: TimedReport) -> None:
    """How far the list has come just before a report."""
    work = context.state.procedure
    _put(context, replace(work, before=(*work.before, (timed, work.progress))))


def forget_before(context: EventContext, gone: TimedReport) -> None:
    """A report was retracted."""
    work = context.state.procedure
    kept = tuple(pair for pair in work.before if pair[0] is not gone)
    _put(context, replace(work, before=kept))
