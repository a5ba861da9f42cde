"""A reading is asked for, and that is remembered. Knows no step and no alarm."""

from __future__ import annotations

from assistant.dialogue.event_context import Turn
from assistant.wording import readback


def ask(turn: Turn, what: str) -> None:
    """Ask for a reading."""
    turn.say(readback.ask(what))
    asked(turn, what)


def asked(turn: Turn, what: str) -> None:
    """Remember that a reading was asked for."""
    silent = turn.mind.heard_at <= turn.mind.asking_since
    again = turn.mind.asking is not None and silent
    turn.now(
        asking=what,
        asking_at=turn.at,
        asking_times=turn.mind.asking_times + 1 if again else 1,
        asking_since=turn.mind.asking_since if again else turn.at,
    )
