"""Asking for a reading, and remembering that it was asked for. Knows no step and no alarm."""

from __future__ import annotations

from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import needs
from assistant.wording import readback


def ask(context: EventContext, gauge: str, words: str = "") -> None:
    """Ask for a reading, in words of its own where there are some."""
    context.say(words or readback.ask_for(gauge))
    note_asked(context, gauge)


def note_asked(context: EventContext, gauge: str) -> None:
    """Remember that a reading was asked for.

    The pressure once more, ever rarer, until it is called: his hands are full, and the valve
    watches it. The water only where nothing was understood since.
    """
    asked = context.state.asked.get(gauge)
    silent = asked is not None and context.state.person.heard_at <= asked.first_at
    again = silent or gauge == "pressure"
    needs.put(context, gauge, gauge, again)


def called_wrong(context: EventContext, gauge: str) -> bool:
    """Whether its last reading was taken back, and none was called since."""
    return any(report.what == gauge for report in context.state.hearing.denied)
