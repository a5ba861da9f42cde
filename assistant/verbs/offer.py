"""`footplate` with no verb: what fits this machine, and how to begin it."""

from __future__ import annotations

import argparse
import sys

from assistant.errors import FootplateError
from assistant.verbs.out import Out

OFFERS = {
    "live": (
        ("There is a microphone ({microphone}). A live steam-up:", "run --engine FILE"),
        ("To practise first, on an invented engine:", "rehearse --speed real"),
        ("Everything else:", "--help"),
    ),
    "practice": (
        ("No microphone here. A practice steam-up by voice:", "rehearse --speed real"),
        ("A steam-up with typed lines instead of a microphone:", "run --typed --engine FILE"),
        ("Everything else:", "--help"),
    ),
}


def run(given: argparse.Namespace, out: Out) -> int:
    """Say what there is; on a terminal, begin it when asked. Returns an exit code."""
    microphone = _microphone()
    verb = "run" if microphone else "rehearse"
    for what, command in OFFERS["live" if microphone else "practice"]:
        out.line(f"{what.format(microphone=microphone):<58} footplate {command}")
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
