"""Owner of `state.lesson`: what a learner was told, what he did unasked, the acts being given."""

from __future__ import annotations

from dataclasses import replace

from assistant.dialogue.event_context import EventContext
from assistant.dialogue.state import Lesson
from assistant.messages import Learner


def _put(context: EventContext, lesson: Lesson) -> None:
    if lesson != context.state.lesson:
        context.become(replace(context.state, lesson=lesson))


def begin(context: EventContext, learner: Learner | None) -> None:
    """Who learns in this session."""
    _put(context, replace(context.state.lesson, learner=learner))


def put(context: EventContext, step: str) -> None:
    """A step was put: what answers it later was not done unasked."""
    lesson = context.state.lesson
    if lesson.learner is not None:
        _put(context, replace(lesson, put=lesson.put | {step}))


def reason_told(context: EventContext, step: str) -> None:
    """The learner was told the reason of a step."""
    learner = context.state.lesson.learner
    if learner is not None and step not in learner.reasons:
        reasons = tuple(sorted((*learner.reasons, step)))
        _put(context, replace(context.state.lesson, learner=replace(learner, reasons=reasons)))


def anticipated(context: EventContext, step: str, times: int) -> None:
    """How often the learner has done a step before it was asked; 0: it is asked again."""
    learner = context.state.lesson.learner
    if learner is None:
        return
    counts = {**dict(learner.anticipated), step: times}
    kept = tuple(sorted((each, count) for each, count in counts.items() if count))
    _put(context, replace(context.state.lesson, learner=replace(learner, anticipated=kept)))


def acts(context: EventContext, step: str, left: tuple[str, ...]) -> None:
    """The acts of a step that are still to be given, each after "next"; none for no step."""
    _put(context, replace(context.state.lesson, acts_of=step, acts=left))
