"""Owner of `state.question`: what is open between the two speakers."""

from __future__ import annotations

from dataclasses import replace

from assistant.dialogue.event_context import EventContext
from assistant.dialogue.state import Doubt, PlateQuestion, Question


def _put(context: EventContext, question: Question) -> None:
    if question != context.state.question:
        context.become(replace(context.state, question=question))


def doubt(context: EventContext, doubt: Doubt) -> None:
    """Open a confirmation."""
    _put(context, replace(context.state.question, doubt=doubt))


def close_doubt(context: EventContext) -> None:
    """No confirmation is open any more."""
    _put(context, replace(context.state.question, doubt=None))


def expect_note(context: EventContext, expected: bool) -> None:
    """Whether the next words are a note."""
    _put(context, replace(context.state.question, note_expected=expected))


def put_plate(context: EventContext, plate: PlateQuestion) -> None:
    """The question of the plate, as it stands."""
    _put(context, replace(context.state.question, plate=plate))


def close_all(context: EventContext) -> None:
    """After a break no question is open but the plate's."""
    _put(context, replace(context.state.question, doubt=None, note_expected=False))
