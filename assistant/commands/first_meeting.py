"""`footplate` alone, the first time at a terminal: sound both ways, ten things to say, a practice.

Each part may be answered with no or fail: the next one comes all the same.
"""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from assistant.commands.output import Out
from assistant.config.atomic_write import write_whole
from assistant.config.paths import home_folder
from assistant.config.private_files import PRIVATE_FILE, make_private_folder
from assistant.errors import FootplateError, WorldFailedError
from assistant.wording.things_to_say import first_ten

PRACTICE_MIN = 5
PRACTICE = ("rehearse", "--speed", "real", "--minutes", str(PRACTICE_MIN))
TRY = "pressure seventy five"  # said to try the microphone
NOT_HEARD = "Not heard. Turn it up, or choose another: footplate devices lists them."
LISTEN_S = 6.0

Ask = Callable[[str], str]


class SoundCheck(Protocol):
    """The sound of this machine, both ways."""

    def play(self) -> str:
        """The tone of a danger, then a sentence; why nothing is heard, or empty."""

    def hear(self) -> tuple[list[str], str]:
        """What the microphone is worth, in lines, and the words understood (empty: none).

        Raises FootplateError where there is no microphone.
        """


def is_first() -> bool:
    """Whether nobody has met the program in this home."""
    return not _mark().exists()


def meet(out: Out, ask: Ask, sound: SoundCheck) -> list[str] | None:
    """The meeting; the words of a practice where that is wanted. It is not offered again."""
    out.line("This is the first time here. The sound both ways, ten things to say, a practice.")
    out.line("It assists; it never replaces looking at the gauges.")
    out.line()
    _can_he_hear(out, ask, sound)
    _is_he_heard(out, ask, sound)
    out.line()
    out.line("Ten things to say; footplate phrases has more:")
    ten = first_ten()
    wide = max(len(saying.form) for saying in ten)
    for saying in ten:
        out.line(f"  {saying.form:<{wide}}  {saying.varies}".rstrip())
    out.line()
    with contextlib.suppress(WorldFailedError, OSError):  # then it comes once more
        make_private_folder(_mark().parent)
        write_whole(_mark(), b"", PRIVATE_FILE)
    offer = f"A practice of {PRACTICE_MIN} minutes on an invented engine now? [y/N] "
    return list(PRACTICE) if _yes(ask(offer)) else None


def _can_he_hear(out: Out, ask: Ask, sound: SoundCheck) -> None:
    out.line("1. Can you hear it? The tone of a danger, then a sentence.")
    trouble = _or_trouble(sound.play)
    if trouble:
        out.line(f"   {trouble}")
    elif not _yes(ask("   Did you hear both? [y/N] ")):
        out.line(f"   {NOT_HEARD}")


def _is_he_heard(out: Out, ask: Ask, sound: SoundCheck) -> None:
    out.line("2. Can it hear you? Microphone a thumb's width from the mouth.")
    ask(f"   Enter, two seconds of quiet, then say: {TRY} ")
    try:
        lines, words = sound.hear()
    except FootplateError as trouble:
        out.line(f"   {trouble}")
        return
    for line in lines:
        out.line(f"   {line}")
    out.line(f"   understood: {words}" if words else "   Nothing was understood. Once more nearer?")
    if words and words != TRY:
        out.line("   That is not what was wanted: footplate devices --test tells more.")


def _or_trouble(play: Callable[[], str]) -> str:
    try:
        return play()
    except FootplateError as trouble:
        return str(trouble)


def _yes(answer: str) -> bool:
    return answer.strip().lower() in {"y", "yes", "heard"}


def _mark() -> Path:
    """A file that is there once somebody has met the program."""
    return home_folder() / "met"
