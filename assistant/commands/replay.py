"""`footplate replay`: a journal's events through the session again; are the effects the same?"""

from __future__ import annotations

import argparse
import math
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from itertools import chain, pairwise
from pathlib import Path

from assistant import __version__
from assistant.commands.output import Out
from assistant.commands.session_build import parts_of
from assistant.config import paths
from assistant.dialogue.session import Session
from assistant.errors import NotRightError
from assistant.journal import reader
from assistant.messages import (
    AlarmChanged,
    ForecastMade,
    ReadingDoubted,
    ReadingRefused,
    Resumed,
    Say,
)

TOLERANCE = 1e-6  # figures closer than this part of themselves are the same


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `replay`."""
    parser.add_argument("journal", type=paths.journal)
    parser.add_argument("--json", action="store_true", help="one JSON object")


def run(given: argparse.Namespace, out: Out) -> int:
    """Replay; returns 0 when every effect is the same, raises NotRightError otherwise.

    Another version of the program may have used other words and told other figures: that is said,
    and is no difference; what was entered, asked, done and raised must be the same.
    """
    replayed = replay(given.journal)
    same = not replayed.differing
    out.record(
        {"journal": str(given.journal), "events": replayed.events, "same": same,
         "first": replayed.differing[0] if replayed.differing else None,
         "told_otherwise": replayed.told_otherwise, "broken_off": replayed.broken_off}
    )  # fmt: skip
    if not same:
        count = f"{len(replayed.differing)} of {replayed.events}"
        raise NotRightError(f"{count} events came out otherwise: {replayed.differing[0]}")
    out.line(f"{replayed.events} events, {_summary(replayed)}")
    return 0


@dataclass(frozen=True, slots=True)
class ReplayResult:
    """events: how many there were. differing: a line for each that came out otherwise.

    told_otherwise: events that differ in words and told figures only, in a journal of another
    version.
    broken_off: events whose last effects never reached the disk: the power went, or the program
    was killed.
    """

    events: int
    differing: tuple[str, ...]
    told_otherwise: int
    broken_off: int
    program: str


def _summary(replayed: ReplayResult) -> str:
    told = "every effect the same"
    if replayed.told_otherwise:
        told = (
            f"every fact the same; {replayed.told_otherwise} were told in other words or figures by"
            f" version {replayed.program}"
        )
    if replayed.broken_off:
        told += f"; {replayed.broken_off} broken off while it was written"
    return told


def differences(journal: Path) -> tuple[int, list[str]]:
    """How many events were replayed, and a line for each whose effects differ."""
    replayed = replay(journal)
    return replayed.events, list(replayed.differing)


def replay(journal: Path, version: str = __version__) -> ReplayResult:
    """Feed the events of a journal through a session made of its own texts."""
    kept = reader.read(journal)
    header = reader.require_header(kept)
    session = Session(parts_of(header))
    count = told_otherwise = broken_off = 0
    differing: list[str] = []
    for turn, after in pairwise(chain(kept.exchanges(), [None])):
        assert turn is not None  # only the last of all is None
        count += 1
        effects = tuple(session.handle(turn.event))
        if _same(effects, turn.effects):
            continue
        was_last = after is None or isinstance(after.event, Resumed)
        if was_last and _same(effects[: len(turn.effects)], turn.effects):
            broken_off += 1
        elif header.program != version and _same(_facts(effects), _facts(turn.effects)):
            told_otherwise += 1
        else:
            differing.append(_difference_line(turn, effects))
    return ReplayResult(count, tuple(differing), told_otherwise, broken_off, header.program)


def _same(one: object, other: object) -> bool:
    """Equal, but for the last digits of a figure: another processor rounds them otherwise."""
    if isinstance(one, float) and isinstance(other, float):
        return math.isclose(one, other, rel_tol=TOLERANCE, abs_tol=TOLERANCE)
    if type(one) is not type(other):
        return False
    if is_dataclass(one):
        return all(_same(getattr(one, f.name), getattr(other, f.name)) for f in fields(one))
    if isinstance(one, tuple | list) and isinstance(other, tuple | list):
        return len(one) == len(other) and all(map(_same, one, other))
    return one == other


def _facts(effects: Sequence[object]) -> list[object]:
    """What happened, without how it was said and which figures it was told with."""
    return [_fact(one) for one in effects]


def _fact(effect: object) -> object:
    match effect:
        case Say():
            return replace(effect, text="")
        case AlarmChanged() | ReadingDoubted() | ReadingRefused():
            return replace(effect, reason="")
        case ForecastMade():
            return (ForecastMade, effect.target_psi)
    return effect


def _short(effect: object) -> str:
    return textwrap.shorten(str(effect), 160, placeholder=" ...")


def _difference_line(turn: reader.Exchange, effects: tuple[object, ...]) -> str:
    pairs = zip(turn.effects, effects, strict=False)
    first = next(((a, b) for a, b in pairs if not _same(a, b)), None)
    what = f"recorded {_short(first[0])}, now {_short(first[1])}" if first else (
        f"recorded {len(turn.effects)} effects, now {len(effects)}"
    )  # fmt: skip
    return f"at {turn.event.at:.1f} s, {type(turn.event).__name__}: {what}"
