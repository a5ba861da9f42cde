"""A reading is asked for, and that is remembered. Knows no step and no alarm."""

from __future__ import annotations

from assistant.dialogue.event_context import EventContext
from assistant.wording import readback


def ask(context: EventContext, what: str) -> None:
    """Ask for a reading."""
    context.say(readback.ask_for(what))
    asked(context, what)


def asked(context: EventContext, what: str) -> None:
    """Remember that a reading was asked for."""
    silent = context.state.heard_at <= context.state.asking_since
    again = context.state.asking is not None and silent
    context.update(
        asking=what,
        asking_at=context.at,
        asking_times=context.state.asking_times + 1 if again else 1,
        asking_since=context.state.asking_since if again else context.at,
    )
