"""A journal read back: is it whole, what is in it, which one is unfinished. Never writes."""

from __future__ import annotations

import gc
import hashlib
import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple

from assistant.config.positioned_yaml import read_bytes
from assistant.errors import InputWrongError
from assistant.journal import hash_chain
from assistant.journal.codec import NotAMessageError, effect_from_record, event_from_record
from assistant.journal.hash_chain import ChainReading, Record, State
from assistant.journal.header import ROLES, Header, header_from, refuse_newer
from assistant.journal.lock import slug
from assistant.messages import (
    Effect,
    Ended,
    Event,
    ReadingAccepted,
    ReadingCorrected,
    Resumed,
)

SUFFIX = ".jsonl"
MIN_DIGITS = 8  # of a digest: fewer could be hit by chance
_MAX_BYTES = 2_000_000_000
_HEADER_KINDS = ("journal", *ROLES)  # the kinds of the first records
# What a writer who goes on must know: the readings that a correction may point at.
READING_EFFECTS = (ReadingAccepted.__name__, ReadingCorrected.__name__)


class Exchange(NamedTuple):
    """An event and the effects that were written for it."""

    event: Event
    effects: tuple[Effect, ...]


@dataclass(frozen=True, slots=True)
class Seal:
    """A seal: the number of its record, the digest of all before it, and whether it still holds."""

    n: int
    digest: str
    holds: bool


@dataclass(frozen=True)
class JournalRecords:
    """A journal's good records, up to the first bad place, and what is the matter there.

    lost: bytes behind the good records. sha256: of the whole file, to the byte. header: None when
    even the first records are not all there.
    """

    path: Path
    chained: ChainReading
    lost: int
    sha256: str
    header: Header | None

    @property
    def records(self) -> tuple[Record, ...]:
        """The good records, or those of them that were asked for."""
        return self.chained.records

    @property
    def count(self) -> int:
        """How many good records there are."""
        return self.chained.count

    @property
    def state(self) -> State:
        """Whole, cut or altered."""
        return self.chained.state

    @property
    def where(self) -> int | None:
        """The number of the first bad record, None when whole."""
        return self.chained.where

    @property
    def why(self) -> str:
        """What is the matter there, in words."""
        return self.chained.why

    @property
    def digest(self) -> str:
        """The hash of the last good line."""
        return self.chained.last

    @property
    def begun(self) -> Mapping[str, Any] | None:
        """What the first record says (engine_name, started ...), None when it is not all there."""
        first = self.records[0] if self.records else None
        if first is None or first.kind != "journal" or not isinstance(first.payload, dict):
            return None
        kept = first.payload.get("kept")
        texts_there = isinstance(kept, int) and self.count > kept
        return first.payload if texts_there else None

    @property
    def lacks(self) -> str:
        """Why nothing can be made of it: empty, or cut within its first records; else nothing."""
        if self.begun is not None:
            return ""
        if not self.count and not self.lost:
            return "is empty, no journal"
        return "does not hold its first records"

    def exchanges(self) -> Iterator[Exchange]:
        """Events with their effects, in order. InputWrongError for a record that is no message."""
        event: Event | None = None
        effects: list[Effect] = []
        for record in self.records:
            try:
                if record.kind == "event":
                    if event is not None:
                        yield Exchange(event, tuple(effects))
                    event, effects = event_from_record(record.payload.get("event")), []
                elif record.kind == "effect":
                    effects.append(effect_from_record(record.payload.get("effect")))
            except NotAMessageError as wrong:
                raise InputWrongError(f"{self.path}: record {record.n}: {wrong}") from wrong
        if event is not None:
            yield Exchange(event, tuple(effects))

    def events(self) -> tuple[Event, ...]:
        """Every event, in order."""
        return tuple(turn.event for turn in self.exchanges())

    @property
    def seal(self) -> Seal | None:
        """The last seal, whether it still holds, and up to where; None when there is none."""
        for record in reversed(self.records):
            if record.kind == "sealed":
                holds = record.payload.get("digest") == hash_chain.digest_of(record.before)
                return Seal(record.n, hash_chain.digest_of(record.before), holds)
        return None

    def has_digest(self, spoken: str) -> bool:
        """Whether this is the digest that was written down elsewhere: of a seal, or of the end.

        The sixteen digits, or the hash of the last line; eight figures of either at least.
        """
        given = "".join(spoken.lower().split())
        hashes = [r.before for r in self.records if r.kind == "sealed"] + [self.digest]
        if len(given) < MIN_DIGITS:
            return False
        seals = [hash_chain.digest_of(one).replace(" ", "") for one in hashes]
        return any(one.startswith(given) for one in [*seals, self.digest])

    @property
    def finished(self) -> bool:
        """Whether the session came to its end (and was not taken up again after it)."""
        for record in reversed(self.records):
            message = record.payload.get(record.kind, {})
            if isinstance(message, dict) and message.get("is") in {
                Ended.__name__,
                Resumed.__name__,
            }:
                return bool(message["is"] == Ended.__name__)
        return False


def read(path: Path, only: tuple[str, ...] = (), without: tuple[str, ...] = ()) -> JournalRecords:
    """A journal as far as its chain holds.

    only: names of messages, or kinds of records; when given, no others are read but the first and
    the last (and there is no header, unless they are `_HEADER_KINDS`), which is faster, while every line
    is still proved by its hashes.
    without: names of messages that are passed over, for the same reason; its `turns` are then of no
    use, its records are.
    Raises InputWrongError when there is no such file or a newer program wrote it.
    """
    raw = read_bytes(path, _MAX_BYTES)
    _refuse_newer_format(raw, path)
    with gc_paused():
        found = hash_chain.read_chain(
            raw,
            tuple(f'"{name}"'.encode() for name in only),
            tuple(f'":{{"is":"{name}",'.encode() for name in without),
        )
    return JournalRecords(
        path,
        found,
        len(raw) - found.whole_bytes,
        hashlib.sha256(raw).hexdigest(),
        header_from(found.records),
    )


@contextmanager
def gc_paused() -> Iterator[None]:
    """No search for circles among many new values that have none: a fifth of the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def require_header(kept: JournalRecords) -> Header:
    """The first records of a journal that was read whole. InputWrongError when they are not all
    there, or not understood."""
    if kept.header is None:
        lacks = kept.lacks or "its first record is not understood"
        raise InputWrongError(f"{kept.path}: {lacks}")
    return kept.header


def _refuse_newer_format(raw: bytes, path: Path) -> None:
    """A newer format may chain its records in another way, so its version is asked for first."""
    try:
        first = json.loads(raw[: raw.find(b"\n") + 1])
    except (ValueError, RecursionError):
        return
    if isinstance(first, dict) and first.get("kind") == "journal":
        try:
            refuse_newer(first)
        except InputWrongError as newer:
            raise InputWrongError(f"{path}: {newer}") from newer


def new_path(folder: Path, engine_name: str, started: str) -> Path:
    """A free name for a new journal: when it began, and the engine.

    started: ISO 8601; its colons are not liked in file names.
    """
    stem = f"{started[:19].replace(':', '-')}_{slug(engine_name)}"
    path = folder / f"{stem}{SUFFIX}"
    again = 2
    while path.exists():
        path = folder / f"{stem}_{again}{SUFFIX}"
        again += 1
    return path


def journals_of(folder: Path, engine_name: str) -> tuple[Path, ...]:
    """The journals of one engine in a folder, the oldest first."""
    named = [path for path in folder.glob(f"*{SUFFIX}") if _engine_named_in(path) == engine_name]
    return tuple(sorted(named, key=lambda path: path.name))


def last_unfinished(folder: Path, engine_name: str) -> JournalRecords | None:
    """The newest journal of this engine that did not come to its end, None when there is none.

    Read without most of its effects: its events are what a session is made of again. One that a
    newer program wrote is passed over.
    """
    for path in reversed(journals_of(folder, engine_name)):
        try:
            book = read(path, only=("event", Ended.__name__, *READING_EFFECTS, *_HEADER_KINDS))
        except InputWrongError:
            continue
        if book.begun is not None and not book.finished:
            return book
    return None


def _engine_named_in(path: Path) -> str | None:
    """The engine that a journal's first record names, None when it cannot be told."""
    try:
        with path.open("rb") as file:
            first = json.loads(file.readline(100_000))
    except (OSError, ValueError, RecursionError):
        return None
    return first.get("engine_name") if isinstance(first, dict) else None
