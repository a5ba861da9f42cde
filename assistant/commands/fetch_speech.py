"""`footplate fetch-speech`: fetches vosk's English model."""

from __future__ import annotations

import argparse

from assistant.commands.output import Out


def add(parser: argparse.ArgumentParser) -> None:
    """No arguments."""


def run(given: argparse.Namespace, out: Out) -> int:
    """Fetch and load it; returns 0."""
    from assistant.recogniser.vosk_model import fetch_model

    folder = fetch_model(out.tell)
    out.line(f"vosk's English model is in {folder}")
    return 0
