"""`footplate replay`: a journal's events through the session again; are the effects the same?"""

from __future__ import annotations

import argparse
from pathlib import Path

from assistant.errors import NotRightError
from assistant.files import book
from assistant.session import Session
from assistant.verbs.out import Out
from assistant.verbs.parts import parts_of


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `replay`."""
    parser.add_argument("journal", type=Path)
    parser.add_argument("--json", action="store_true", help="one JSON object")


def run(given: argparse.Namespace, out: Out) -> int:
    """Replay; returns 0 when every effect is the same, raises NotRightError otherwise."""
    events, differing = differences(given.journal)
    out.record(
        {"journal": str(given.journal), "events": events, "same": not differing,
         "first": differing[0] if differing else None}
    )  # fmt: skip
    if differing:
        raise NotRightError(
            f"{len(differing)} of {events} events came out otherwise: {differing[0]}"
        )
    out.line(f"{events} events, every effect the same")
    return 0


def differences(journal: Path) -> tuple[int, list[str]]:
    """How many events were replayed, and a line for each whose effects differ."""
    kept = book.read(journal)
    session = Session(parts_of(book.header_of_book(kept)))
    count, differing = 0, []
    for turn in kept.turns():
        count += 1
        effects = tuple(session.handle(turn.event))
        if effects != turn.effects:
            differing.append(_told(turn, effects))
    return count, differing


def _told(turn: book.Turn, effects: tuple[object, ...]) -> str:
    pairs = zip(turn.effects, effects, strict=False)
    first = next(((a, b) for a, b in pairs if a != b), None)
    what = f"recorded {first[0]}, now {first[1]}" if first else (
        f"recorded {len(turn.effects)} effects, now {len(effects)}"
    )  # fmt: skip
    return f"at {turn.event.at:.1f} s, {type(turn.event).__name__}: {what}"
