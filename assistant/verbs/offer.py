"""`footplate` with no verb: what fits this machine, and how to begin it."""

from __future__ import annotations

import argparse
import sys

from assistant.errors import FootplateError
from assistant.verbs.out import Out


def run(given: argparse.Namespace, out: Out) -> int:
    """Say what there is; on a terminal, begin it when asked. Returns an exit code."""
    microphone = _microphone()
    verb = "run" if microphone else "rehearse"
    if microphone:
        out.line(
            f"There is a microphone ({microphone}): a live steam-up is   footplate run --engine FILE"
        )
        out.line(
            "To practise first, on an invented engine:              footplate rehearse --speed real"
        )
    else:
        out.line(
            "No microphone here: a practice steam-up by voice is    footplate rehearse --speed real"
        )
        out.line("With typed lines instead of a microphone:              footplate run --typed")
    out.line("Everything else:                                       footplate --help")
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        return 0
    return _begin(verb)


def _microphone() -> str | None:
    from assistant.devices.sound_card import SoundCard

    try:
        return SoundCard().find(None, "microphone").name
    except FootplateError:
        return None


def _begin(verb: str) -> int:
    from assistant.cli import main

    words = ["run"] if verb == "run" else ["rehearse", "--speed", "real"]
    try:
        answer = input(f"Begin `footplate {' '.join(words)}` on the practice engine now? [y/N] ")
    except EOFError:
        return 0
    return main(words) if answer.strip().lower() in {"y", "yes"} else 0
