"""What is open between the two speakers, folded from the session's state. Changes nothing."""

from __future__ import annotations

from assistant.dialogue import plate_check
from assistant.dialogue.conversation import Open
from assistant.dialogue.ending import STOP
from assistant.dialogue.event_context import EventContext
from assistant.procedure import position


def open_now(context: EventContext) -> Open:
    """What a bare "yes", "no" or number would answer now."""
    question = context.state.question
    if question.note_expected:
        return Open.NOTE
    if question.doubt is None:
        return Open.QUESTION if question_stands(context) else Open.NOTHING
    if question.doubt.rival is not None:
        return Open.WHICH
    return Open.END_ASKED if question.doubt.meaning == STOP else Open.CONFIRMATION


def question_stands(context: EventContext) -> bool:
    """Whether a reading, the plate or a step was asked and is not answered."""
    state = context.state
    return (
        state.reading_asked is not None
        or plate_check.has_floor(context)
        or position.in_hand(state.progress) is not None
    )
