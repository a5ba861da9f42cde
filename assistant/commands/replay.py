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
from assistant.commands.replayed_session import ReplayedSession
from assistant.commands.session_build import session_config_of
from assistant.config import paths
from assistant.dialogue.session import Session
from assistant.errors import NotRightError
from assistant.journal import reader
from assistant.journal.hash_chain import State
from assistant.journal.header import FORMAT
from assistant.messages import (
    Decided,
    Effect,
    Event,
    NoteTaken,
    ReadingAccepted,
    ReadingCorrected,
    ReadingRefused,
    Resumed,
)

ENTERED = (ReadingAccepted, ReadingRefused, ReadingCorrected, NoteTaken)
MOST_LINES = 20  # of what came out otherwise, for a person
TOLERANCE = 1e-6  # relative: exponentials differ in the last digits between processors


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `replay`."""
    parser.add_argument("journal", type=paths.journal)
    parser.add_argument("--json", action="store_true", help="one JSON object")


def run(given: argparse.Namespace, out: Out) -> int:
    """Replay; returns 0 when it comes out as recorded, raises NotRightError otherwise.

    Of a journal that is cut or altered what stands before that place is replayed, and the journal
    is not right.
    Of a journal of another version or an earlier format only the readings (accepted, refused,
    corrected) and the notes must be the same; what else differs is listed.
    """
    replayed = replay(given.journal)
    same = not replayed.differing
    whole = replayed.state == "whole"
    out.record(
        {"journal": str(given.journal), "events": replayed.events, "same": same and whole,
         "first": replayed.differing[0] if replayed.differing else None,
         "told_otherwise": len(replayed.otherwise), "otherwise": list(replayed.otherwise),
         "broken_off": replayed.interrupted,
         "state": replayed.state, "where": replayed.where, "why": replayed.why}
    )  # fmt: skip
    if not same:
        count = f"{len(replayed.differing)} of {replayed.events}"
        raise NotRightError(f"{count} events came out otherwise: {replayed.differing[0]}")
    if not whole:
        summary = f"{replayed.events} events before that, {_summary(replayed)}"
        raise NotRightError(f"{given.journal}: {replayed.state}: {replayed.why}; {summary}")
    out.line(f"{replayed.events} events, {_summary(replayed)}")
    for line in replayed.otherwise[:MOST_LINES]:
        out.line(line)
    if len(replayed.otherwise) > MOST_LINES:
        out.line(f"... and {len(replayed.otherwise) - MOST_LINES} more, all with --json")
    return 0


@dataclass(frozen=True, slots=True)
class ReplayResult:
    """What a replay found."""

    events: int
    """How many there were."""
    differing: tuple[str, ...]
    """A line for each event that did not come out as it must."""
    otherwise: tuple[str, ...]
    """A line for each event of an earlier journal whose alarms, steps or words differ."""
    interrupted: int
    """Events whose last effects never reached the disk: a power cut, or the program was killed."""
    program: str
    """The version that wrote the journal."""
    state: State = "whole"
    where: int | None = None
    """The number of the first record that is not good, None when whole."""
    why: str = ""
    """What is wrong there."""


def _summary(replayed: ReplayResult) -> str:
    summary = "every effect the same"
    if replayed.otherwise:
        summary = (
            f"every reading and note the same; {len(replayed.otherwise)} had other alarms, steps,"
            f" words or figures by version {replayed.program}"
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
    session = ReplayedSession(Session(session_config_of(header)))
    earlier = header.program != version or header.format < FORMAT
    count = interrupted = 0
    differing: list[str] = []
    otherwise: list[str] = []
    for exchange, after in pairwise(chain(records.exchanges(), [None])):
        assert exchange is not None  # only the last element is None
        count += 1
        effects = tuple(session.handle(exchange.event))
        recorded = exchange.effects
        if header.format < FORMAT:
            recorded, effects = _without_decided(recorded), _without_decided(effects)
        if _same(effects, recorded):
            continue
        was_last = after is None or isinstance(after.event, Resumed)
        if was_last and _same(effects[: len(recorded)], recorded):
            interrupted += 1
            continue
        kept = earlier and _same(_entered(effects), _entered(recorded))
        line = _difference_line(exchange.event, recorded, effects)
        (otherwise if kept else differing).append(line)
    return ReplayResult(
        count, tuple(differing), tuple(otherwise), interrupted, header.program,
        records.state, records.where, records.why,
    )  # fmt: skip


def _same(one: object, other: object) -> bool:
    """Equal, numbers within `TOLERANCE`."""
    if isinstance(one, float) and isinstance(other, float):
        return math.isclose(one, other, rel_tol=TOLERANCE, abs_tol=TOLERANCE)
    if type(one) is not type(other):
        return False
    if is_dataclass(one):
        names = [field.name for field in fields(one) if field.compare]
        return all(_same(getattr(one, name), getattr(other, name)) for name in names)
    if isinstance(one, tuple | list) and isinstance(other, tuple | list):
        return len(one) == len(other) and all(map(_same, one, other))
    return one == other


def _without_decided(effects: tuple[Effect, ...]) -> tuple[Effect, ...]:
    """The effects as format 1 has them. A continued journal of that format may hold both kinds."""
    return tuple(effect for effect in effects if not isinstance(effect, Decided))


def _entered(effects: Sequence[Effect]) -> list[Effect]:
    """The readings and notes among the effects, without the reason of a refusal."""
    kept = [effect for effect in effects if isinstance(effect, ENTERED)]
    return [replace(e, reason="") if isinstance(e, ReadingRefused) else e for e in kept]


def _short(effect: object) -> str:
    return textwrap.shorten(str(effect), 160, placeholder=" ...")


def _difference_line(event: Event, recorded: Sequence[Effect], now: Sequence[Effect]) -> str:
    pairs = zip(recorded, now, strict=False)
    first = next(((a, b) for a, b in pairs if not _same(a, b)), None)
    difference = (
        f"recorded {_short(first[0])}, now {_short(first[1])}"
        if first
        else f"recorded {len(recorded)} effects, now {len(now)}"
    )
    return f"at {event.at:.1f} s, {type(event).__name__}: {difference}"
