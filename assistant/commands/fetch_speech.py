"""`footplate fetch-speech`: vosk's English model, for people on the net."""

from __future__ import annotations

import argparse

from assistant.commands.output import Out


def add(parser: argparse.ArgumentParser) -> None:
    """No arguments."""


def run(given: argparse.Namespace, out: Out) -> int:
    """Fetch it and try it; returns 0."""
    from assistant.recogniser.vosk_recogniser import fetch_model

    folder = fetch_model(out.tell)
    out.line(f"vosk's English model is in {folder}")
    return 0
