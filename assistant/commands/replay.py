"""`footplate replay`: feeds a journal's events to a session again; are the effects the same?"""

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
from assistant.commands.session_build import session_config_of
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

TOLERANCE = 1e-6  # relative: exponentials differ in the last digits between processors


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `replay`."""
    parser.add_argument("journal", type=paths.journal)
    parser.add_argument("--json", action="store_true", help="one JSON object")


def run(given: argparse.Namespace, out: Out) -> int:
    """Replay; returns 0 when every effect is the same, raises NotRightError otherwise.

    In a journal of another version, other words and other forecast figures are reported but are
    not a difference; what was entered, asked, done and raised must be the same.
    """
    replayed = replay(given.journal)
    same = not replayed.differing
    out.record(
        {"journal": str(given.journal), "events": replayed.events, "same": same,
         "first": replayed.differing[0] if replayed.differing else None,
         "told_otherwise": replayed.reworded, "broken_off": replayed.interrupted}
    )  # fmt: skip
    if not same:
        count = f"{len(replayed.differing)} of {replayed.events}"
        raise NotRightError(f"{count} events came out otherwise: {replayed.differing[0]}")
    out.line(f"{replayed.events} events, {_summary(replayed)}")
    return 0


@dataclass(frozen=True, slots=True)
class ReplayResult:
    """What a replay found."""

    events: int
    """How many there were."""
    differing: tuple[str, ...]
    """A line for each event whose effects differ."""
    reworded: int
    """Events of another version's journal that differ only in words and forecast figures."""
    interrupted: int
    """Events whose last effects never reached the disk: a power cut, or the program was killed."""
    program: str
    """The version that wrote the journal."""


def _summary(replayed: ReplayResult) -> str:
    summary = "every effect the same"
    if replayed.reworded:
        summary = (
            f"every fact the same; {replayed.reworded} were told in other words or figures by"
            f" version {replayed.program}"
        )
    if replayed.interrupted:
        summary += f"; {replayed.interrupted} broken off while it was written"
    return summary


def differences(journal: Path) -> tuple[int, list[str]]:
    """How many events were replayed, and a line for each whose effects differ."""
    replayed = replay(journal)
    return replayed.events, list(replayed.differing)


def replay(journal: Path, version: str = __version__) -> ReplayResult:
    """Feed the events of a journal through a session made of its own texts."""
    records = reader.read(journal)
    header = reader.require_header(records)
    session = Session(session_config_of(header))
    count = reworded = interrupted = 0
    differing: list[str] = []
    for exchange, after in pairwise(chain(records.exchanges(), [None])):
        assert exchange is not None  # only the last element is None
        count += 1
        effects = tuple(session.handle(exchange.event))
        if _same(effects, exchange.effects):
            continue
        was_last = after is None or isinstance(after.event, Resumed)
        if was_last and _same(effects[: len(exchange.effects)], exchange.effects):
            interrupted += 1
        elif header.program != version and _same(_facts(effects), _facts(exchange.effects)):
            reworded += 1
        else:
            differing.append(_difference_line(exchange, effects))
    return ReplayResult(count, tuple(differing), reworded, interrupted, header.program)


def _same(one: object, other: object) -> bool:
    """Equal, numbers within `TOLERANCE`."""
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
    """What happened, without its wording and its forecast figures."""
    return [_fact(effect) for effect in effects]


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


def _difference_line(exchange: reader.Exchange, effects: tuple[object, ...]) -> str:
    pairs = zip(exchange.effects, effects, strict=False)
    first = next(((a, b) for a, b in pairs if not _same(a, b)), None)
    difference = f"recorded {_short(first[0])}, now {_short(first[1])}" if first else (
        f"recorded {len(exchange.effects)} effects, now {len(effects)}"
    )  # fmt: skip
    return f"at {exchange.event.at:.1f} s, {type(exchange.event).__name__}: {difference}"
