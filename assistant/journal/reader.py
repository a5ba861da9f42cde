"""Reads journals: is one whole, what is in it, which one is unfinished. Never writes."""

from __future__ import annotations

import gc
import hashlib
import json
import os
import stat
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
from assistant.journal.header import ROLES, Header, header_from, is_of_our_size, refuse_newer
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
STOPPED_END = "stopped"  # the reason of an end that nobody spoke: a signal, the end of input
IN_REAL_TIME = ("live", "typed")  # how a session is kept whose times are those of a clock
MIN_DIGITS = 8  # of a digest; fewer could match by chance
_MAX_BYTES = 2_000_000_000
_TAIL_BYTES = 20_000  # an end and what is said at it
_HEADER_KINDS = ("journal", *ROLES)  # the kinds of the first records
# The effects that say which readings are in force, which a correction may point at.
READING_EFFECTS = (ReadingAccepted.__name__, ReadingCorrected.__name__)


class Exchange(NamedTuple):
    """An event and the effects that were written for it."""

    event: Event
    effects: tuple[Effect, ...]


@dataclass(frozen=True, slots=True)
class Seal:
    """A seal of a journal."""

    n: int
    """The number of its record."""
    digest: str
    """Of everything before it, worked out from the file."""
    holds: bool
    """Whether the record states the same digest."""


@dataclass(frozen=True)
class JournalRecords:
    """A journal's good records, up to the first bad one, and the reason it is bad."""

    path: Path
    chained: ChainReading
    lost: int
    """Number of bytes after the good records."""
    sha256: str
    """Of the whole file."""
    header: Header | None
    """None when the first records are not complete, or were not asked for."""

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
        """The reason it is bad."""
        return self.chained.why

    @property
    def digest(self) -> str:
        """The hash of the last good line."""
        return self.chained.last

    @property
    def start_record(self) -> Mapping[str, Any] | None:
        """The payload of the first record, None when the kept texts after it are not complete."""
        first = self.records[0] if self.records else None
        if first is None or first.kind != "journal" or not isinstance(first.payload, dict):
            return None
        kept = first.payload.get("kept")
        texts_there = isinstance(kept, int) and self.count > kept
        return first.payload if texts_there and is_of_our_size(first.payload) else None

    @property
    def unusable(self) -> str:
        """Why the journal cannot be used: empty, or without its first records; "" if it can."""
        if self.start_record is not None:
            return ""
        if not self.count and not self.lost:
            return "is empty, no journal"
        return "does not hold its first records"

    def exchanges(self) -> Iterator[Exchange]:
        """Events with their effects, in order. InputWrongError for one that is not a message."""
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
        return tuple(exchange.event for exchange in self.exchanges())

    @property
    def seal(self) -> Seal | None:
        """The last seal, None when there is none."""
        for record in reversed(self.records):
            if record.kind == "sealed":
                holds = record.payload.get("digest") == hash_chain.digest_of(record.before)
                return Seal(record.n, hash_chain.digest_of(record.before), holds)
        return None

    def has_digest(self, spoken: str) -> bool:
        """Whether a digest written down elsewhere is that of a seal or of the journal's end.

        Given are its sixteen digits or the hash of the last line, or at least the first eight
        characters of either.
        """
        wanted = "".join(spoken.lower().split())
        hashes = [r.before for r in self.records if r.kind == "sealed"] + [self.digest]
        if len(wanted) < MIN_DIGITS:
            return False
        digests = [hash_chain.digest_of(line_hash).replace(" ", "") for line_hash in hashes]
        return any(digest.startswith(wanted) for digest in [*digests, self.digest])

    @property
    def finished(self) -> bool:
        """Whether the session ended, and was not resumed after that."""
        return self._end is not None

    @property
    def stopped(self) -> bool:
        """Whether it was ended by a signal or the end of its input, and not by anybody's words."""
        in_real_time = self.header is not None and self.header.how in IN_REAL_TIME
        return in_real_time and self._end is not None and self._end.get("reason") == STOPPED_END

    @property
    def _end(self) -> Mapping[str, Any] | None:
        """The end of the session, None when there is none or it was resumed after that."""
        for record in reversed(self.records):
            message = record.payload.get(record.kind, {})
            if isinstance(message, dict) and message.get("is") in {
                Ended.__name__,
                Resumed.__name__,
            }:
                return message if message["is"] == Ended.__name__ else None
        return None


def read(path: Path, only: tuple[str, ...] = (), without: tuple[str, ...] = ()) -> JournalRecords:
    """A journal as far as its hash chain holds.

    only: names of messages or kinds of records; when given, for speed, only these are decoded, and
    the first and the last record. There is a header only if `_HEADER_KINDS` are among them.
    without: names of messages that are not decoded, for speed, but for the last record;
    `exchanges` is then incomplete.
    The hashes of every line are verified in any case. Raises InputWrongError when there is no such
    file or a newer program wrote it.
    """
    raw = read_bytes(path, _MAX_BYTES)
    _refuse_newer_format(raw, path)
    with gc_paused():
        chained = hash_chain.read_chain(
            raw,
            tuple(f'"{name}"'.encode() for name in only),
            tuple(f'":{{"is":"{name}",'.encode() for name in without),
        )
    return JournalRecords(
        path,
        chained,
        len(raw) - chained.whole_bytes,
        hashlib.sha256(raw).hexdigest(),
        header_from(chained.records),
    )


@contextmanager
def gc_paused() -> Iterator[None]:
    """Without garbage collection, for speed: many values with no cycle among them are made here."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def require_header(journal: JournalRecords) -> Header:
    """The header of a journal; InputWrongError when it is not complete or not understood."""
    if journal.header is None:
        reason = journal.unusable or "its first record is not understood"
        raise InputWrongError(f"{journal.path}: {reason}")
    return journal.header


def _refuse_newer_format(raw: bytes, path: Path) -> None:
    """Asked before the chain is read, because a newer format may chain its records differently."""
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
    """A free path for a new journal, named after its start (ISO 8601) and its engine."""
    stem = f"{started[:19].replace(':', '-')}_{slug(engine_name)}"
    path = folder / f"{stem}{SUFFIX}"
    number = 2
    while path.exists():
        path = folder / f"{stem}_{number}{SUFFIX}"
        number += 1
    return path


def newest_first(folder: Path, engine_name: str) -> Iterator[Path]:
    """The journals of one engine in a folder; each is opened only when it is asked for."""
    for path in sorted(folder.glob(f"*{SUFFIX}"), key=lambda path: path.name, reverse=True):
        if _engine_named_in(path) == engine_name:
            yield path


def last_unfinished(folder: Path, engine_name: str) -> JournalRecords | None:
    """The newest journal of this engine whose session did not end, None when there is none.

    The last one of all may have been stopped (`JournalRecords.stopped`): nobody said that it was
    over. One in which nothing happened yet (a start that failed) counts only where there is no
    other.
    For speed most of its effects are not decoded: a session is rebuilt from the events alone. A
    journal that a newer program wrote is skipped.
    """
    without_events = None
    newest = True
    for path in newest_first(folder, engine_name):
        if _ends_finished(path, or_stopped=not newest):
            newest = False
            continue
        try:
            journal = read(path, only=("event", Ended.__name__, *READING_EFFECTS, *_HEADER_KINDS))
        except InputWrongError:
            continue
        if journal.start_record is None:
            continue
        happened = journal.state == "altered" or any(r.kind == "event" for r in journal.records)
        over = journal.finished and not (newest and journal.stopped)
        newest = newest and not happened
        if over:
            continue
        if happened:
            return journal
        without_events = without_events or journal
    return without_events


def _ends_finished(path: Path, or_stopped: bool) -> bool:
    """Whether a journal ends with its session, by its last lines alone; False where in doubt.

    or_stopped: an end that nobody spoke is one, too.
    """
    try:
        with path.open("rb") as file:
            size = file.seek(0, os.SEEK_END)
            file.seek(max(0, size - _TAIL_BYTES))
            lines = file.read(_TAIL_BYTES).split(b"\n")
    except OSError:
        return False
    for line in reversed(lines[1:]):
        if b'"effect":{"is":"Ended"' in line:
            return or_stopped or f'"reason":"{STOPPED_END}"'.encode() not in line
        if b'"event":{"is":' in line and b'"event":{"is":"StopAsked"' not in line:
            return False
    return False


def _engine_named_in(path: Path) -> str | None:
    """The engine that a journal's first record names, None when it cannot be read."""
    try:
        descriptor = os.open(path, os.O_RDONLY | os.O_NONBLOCK)  # a pipe must not hold us up
        with os.fdopen(descriptor, "rb") as file:
            if not stat.S_ISREG(os.fstat(descriptor).st_mode):
                return None
            first = json.loads(file.readline(100_000))
    except (OSError, ValueError, RecursionError):
        return None
    return first.get("engine_name") if isinstance(first, dict) else None
