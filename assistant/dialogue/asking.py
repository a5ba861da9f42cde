"""Asking for a reading, and remembering that it was asked for. Knows no step and no alarm."""

from __future__ import annotations

from assistant.dialogue.event_context import EventContext
from assistant.wording import readback


def ask(context: EventContext, gauge: str) -> None:
    """Ask for a reading."""
    context.say(readback.ask_for(gauge))
    note_asked(context, gauge)


def note_asked(context: EventContext, gauge: str) -> None:
    """Remember that a reading was asked for: once more, when nothing was understood since."""
    state = context.state
    silent = state.heard_at <= state.reading_first_asked_at
    again = state.reading_asked is not None and silent
    context.update(
        reading_asked=gauge,
        reading_asked_at=context.at,
        reading_asked_times=state.reading_asked_times + 1 if again else 1,
        reading_first_asked_at=state.reading_first_asked_at if again else context.at,
    )
