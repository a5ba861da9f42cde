"""The book of one session on the disk: append-only, each record written before anything acts on it.

Promise: what `sync` has returned from is on the disk as far as the drive tells the truth; a record
that was being written when the power went is cut short, and every whole record before it is kept.
Not promised: anything about a drive that says "written" and has not; nor that nobody rewrote the
whole book, hashes and all, which only the digest written elsewhere can show.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from assistant.errors import InputWrongError, WorldFailedError
from assistant.journal import clips, hash_chain
from assistant.journal.codec import NotAMessageError, effect_from_record, to_record
from assistant.journal.header import Header, header_records
from assistant.journal.lock import Lock, lock_engine
from assistant.journal.reader import READING_EFFECTS, JournalRecords
from assistant.messages import Effect, Event, Heard, ReadingAccepted, ReadingCorrected, Report

_READING_MARKS = tuple(f'"{name}"'.encode() for name in READING_EFFECTS)


class Journal:
    """The one writer of a journal. Make it with `create` or `reopen`; close it when done."""

    def __init__(
        self, path: Path, lock: Lock, descriptor: int, whole: hash_chain.ChainReading
    ) -> None:
        self.path = path
        self._lock = lock
        self._descriptor = descriptor
        self._count = whole.count
        self._before = whole.last
        self._size = whole.whole_bytes
        self._at = max((record.at for record in whole.records), default=0.0)
        self._standing: dict[Report, int] = readings_in_force(whole.records)

    @classmethod
    def create(cls, path: Path, header: Header) -> Journal:
        """A new journal with its first records, synced with its folder.

        Raises WorldFailedError (a second writer on this engine, a read-only folder, a full disk) or
        InputWrongError when the file is already there.
        """
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as trouble:
            raise _disk_failure(path, "cannot make its folder", trouble) from trouble
        lock = lock_engine(path.parent, header.engine_name)
        try:
            descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_APPEND, 0o644)
        except FileExistsError as there:
            lock.release()
            raise InputWrongError(f"{path}: there is such a journal already") from there
        except OSError as trouble:
            lock.release()
            raise _disk_failure(path, "cannot be written", trouble) from trouble
        journal = cls(path, lock, descriptor, hash_chain.read_chain(b""))
        try:
            for kind, payload in header_records(header):
                journal.append(kind, payload)
            journal.sync()
            _sync_folder(path.parent)
        except WorldFailedError:
            journal.close()
            with contextlib.suppress(OSError):  # it never began
                path.unlink()
            raise
        return journal

    @classmethod
    def reopen(
        cls,
        path: Path,
        engine_name: str,
        known: JournalRecords | None = None,
        lock: Lock | None = None,
    ) -> Journal:
        """Go on with a journal. A torn last line is taken off the end and kept in a record.

        known: what was read of it before, with `book.STANDING`; if it is still the same to a byte,
        it is not proved anew. lock: the engine's, where it is held already; let go on any error.
        Raises as `create` does; InputWrongError when the journal was altered.
        """
        lock = lock or lock_engine(path.parent, engine_name)
        try:
            return cls._reopened(path, lock, known)
        except OSError as trouble:
            raise _disk_failure(path, "cannot be opened", trouble) from trouble
        except NotAMessageError as wrong:
            raise InputWrongError(f"{path}: cannot go on with it: {wrong}") from wrong

    @classmethod
    def _reopened(cls, path: Path, lock: Lock, known: JournalRecords | None) -> Journal:
        descriptor = -1
        try:
            descriptor = os.open(path, os.O_WRONLY | os.O_APPEND)
            raw = path.read_bytes()
            same = known is not None and known.sha256 == hashlib.sha256(raw).hexdigest()
            whole = known.chained if known and same else hash_chain.read_chain(raw, _READING_MARKS)
            if whole.state == "altered":
                raise InputWrongError(f"{path}: cannot go on with it: {whole.why}")
            journal = cls(path, lock, descriptor, whole)
            torn = raw[whole.whole_bytes :]
            if torn:
                os.ftruncate(descriptor, whole.whole_bytes)
                text = torn.decode("utf-8", errors="replace")[:2000]
                journal.append("torn", {"bytes": len(torn), "text": text})
            return journal
        except BaseException:
            if descriptor >= 0:
                os.close(descriptor)
            lock.release()
            raise

    def append(self, kind: str, payload: Mapping[str, Any], at: float | None = None) -> int:
        """Write one record; its number. On WorldFailedError the file is as it was before."""
        self._at = self._at if at is None else at
        line = hash_chain.encode_line(self._count, self._at, kind, payload, self._before)
        self._write(line)
        self._before = hash_chain.hash_of(line[:-1])
        self._count += 1
        self._size += len(line)
        return self._count - 1

    def event(self, event: Event) -> None:
        """Write an event; that of a kept sound carries the hash of what is on the disk."""
        payload: dict[str, Any] = {"event": to_record(event)}
        if isinstance(event, Heard) and event.clip is not None:
            payload[clips.HASH_KEY] = clips.sha256_of(self.path, event.clip)
        self.append("event", payload, event.at)

    def effect(self, at_s: float, effect: Effect) -> None:
        """Write an effect of the event at this time; a correction points at what it corrects."""
        payload: dict[str, Any] = {"effect": to_record(effect)}
        if isinstance(effect, ReadingCorrected) and effect.old in self._standing:
            payload["corrects"] = self._standing.pop(effect.old)
        number = self.append("effect", payload, at_s)
        stands = _reading_in_force(effect)
        if stands is not None:
            self._standing[stands] = number

    def seal(self) -> str:
        """Close the book for good: its digest, to be spoken and written down elsewhere.

        The record of it follows; whatever may be written behind it is not covered.
        """
        digest = hash_chain.digest_of(self._before)
        self.append("sealed", {"digest": digest})
        self.sync()
        return digest

    def sync(self) -> None:
        """Return when everything written so far is on the disk. WorldFailedError when it is not."""
        try:
            os.fsync(self._descriptor)
            names = os.fstat(self._descriptor).st_nlink
        except OSError as trouble:
            raise _disk_failure(self.path, "cannot be brought to the disk", trouble) from trouble
        if names == 0:  # what is written now is gone when we close it
            raise WorldFailedError(f"{self.path}: somebody has taken the journal away")

    @property
    def digest(self) -> str:
        """What stands for the whole book so far: the hash of its last line."""
        return self._before

    def close(self) -> None:
        """Give the file and the engine free. A second call does nothing."""
        if self._descriptor >= 0:
            with contextlib.suppress(OSError):
                os.close(self._descriptor)
            self._descriptor = -1
            self._lock.release()

    def __enter__(self) -> Journal:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _write(self, line: bytes) -> None:
        if self._descriptor < 0:
            raise WorldFailedError(f"{self.path}: the journal is closed")
        left = line
        try:
            while left:
                left = left[os.write(self._descriptor, left) :]
        except OSError as trouble:
            with contextlib.suppress(OSError):  # half a record must not stay in front of the next
                os.ftruncate(self._descriptor, self._size)
            raise _disk_failure(self.path, "cannot be written", trouble) from trouble


def readings_in_force(records: Iterable[hash_chain.Record]) -> dict[Report, int]:
    """Every reading that stands, with the number of the record that says so."""
    found: dict[Report, int] = {}
    for record in records:
        if record.kind != "effect":
            continue
        effect = effect_from_record(record.payload.get("effect"))
        if isinstance(effect, ReadingCorrected):
            found.pop(effect.old, None)
        stands = _reading_in_force(effect)
        if stands is not None:
            found[stands] = record.n
    return found


def _reading_in_force(effect: Effect) -> Report | None:
    if isinstance(effect, ReadingAccepted):
        return effect.report
    return effect.new if isinstance(effect, ReadingCorrected) else None


def _sync_folder(folder: Path) -> None:
    """A new file's name is on the disk only when its folder is."""
    try:
        descriptor = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    except OSError as trouble:
        raise _disk_failure(folder, "cannot be opened", trouble) from trouble
    try:
        os.fsync(descriptor)
    except OSError as trouble:
        raise _disk_failure(folder, "cannot be brought to the disk", trouble) from trouble
    finally:
        os.close(descriptor)


def _disk_failure(path: Path, what: str, trouble: OSError) -> WorldFailedError:
    return WorldFailedError(f"{path}: {what}: {trouble.strerror or trouble}")
