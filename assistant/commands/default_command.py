"""`footplate` without a command: suggests what fits this machine, and how to begin it."""

from __future__ import annotations

import contextlib
import sys

from assistant.commands import first_meeting
from assistant.commands.output import Out
from assistant.commands.own_sound_check import OwnSoundCheck
from assistant.errors import FootplateError

SUGGESTIONS = {
    "live": (
        ("There is a microphone ({microphone}). A live steam-up:", "run --engine FILE"),
        ("Is that file right? Every mistake at once:", "check FILE"),
        ("To practise first, on an invented engine:", "rehearse --speed real"),
        ("Everything else:", "--help"),
    ),
    "practice": (
        ("No microphone here. A practice steam-up by voice:", "rehearse --speed real"),
        ("A steam-up with typed lines instead of a microphone:", "run --typed --engine FILE"),
        ("Everything else:", "--help"),
    ),
}


def choose_command(out: Out) -> list[str] | None:
    """Print the suggestions; on a terminal, the words of a practice if the user agrees.

    The first time at a terminal the two sides meet instead (`first_meeting`).

    A live run is never offered: it wants the file of an engine.
    """
    at_a_terminal = sys.stdin.isatty() and sys.stdout.isatty()
    if at_a_terminal and first_meeting.is_first():
        with contextlib.suppress(EOFError):
            return first_meeting.meet(out, input, OwnSoundCheck(out))
        return None
    microphone = _microphone()
    for what, command in SUGGESTIONS["live" if microphone else "practice"]:
        out.line(f"{what.format(microphone=microphone):<58} footplate {command}")
    if not at_a_terminal:
        return None
    words = ["rehearse", "--speed", "real"]
    try:
        answer = input(f"Begin `footplate {' '.join(words)}` on the practice engine now? [y/N] ")
    except EOFError:
        return None
    return words if answer.strip().lower() in {"y", "yes"} else None


def _microphone() -> str | None:
    from assistant.devices.microphone import CardSource, trouble_with
    from assistant.devices.sound_card import SoundCard

    try:
        card = SoundCard()
        name = card.find(None, "microphone").name
    except FootplateError:
        return None
    return None if trouble_with(CardSource(card)) else name
