"""Writes the journal of one session: append-only, each record before anything acts on it.

What is promised after a power cut, and what is not, is in FORMAT.md.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from assistant.config.private_files import PRIVATE_FILE, make_private_folder
from assistant.errors import InputWrongError, WorldFailedError
from assistant.journal import clips, hash_chain
from assistant.journal.codec import NotAMessageError, effect_from_record, to_record
from assistant.journal.header import Header, header_records
from assistant.journal.lock import Lock, lock_descriptor, lock_engine
from assistant.journal.reader import READING_EFFECTS, JournalRecords
from assistant.messages import Effect, Event, Heard, ReadingAccepted, ReadingCorrected, Report

_READ_BYTES = 1 << 20
# For speed: byte marks of the only effects that a writer needs to decode when it reopens a journal.
_READING_MARKS = tuple(f'"{name}"'.encode() for name in READING_EFFECTS)


class Journal:
    """The only writer of a journal. Made by `create` or `reopen`; to be closed."""

    def __init__(
        self, path: Path, lock: Lock, descriptor: int, raw: bytes, chained: hash_chain.ChainReading
    ) -> None:
        self.path = path
        self._lock = lock
        self._descriptor = descriptor
        self._count = chained.count
        self._before = chained.last
        self._size = chained.whole_bytes
        self._sum = hashlib.sha256(raw[: self._size])  # of what is in the file by this program
        self._date_ns = -1  # of the file when it was last found to be so
        self._head = -1  # how many records a new journal begins with
        self._at = max((record.at for record in chained.records), default=0.0)
        self._in_force: dict[Report, int] = readings_in_force(chained.records)

    @classmethod
    def create(cls, path: Path, header: Header) -> Journal:
        """A new journal with its first records, synced together with its folder.

        Raises WorldFailedError (a second writer on this engine, a read-only folder, a full disk) or
        InputWrongError when the file exists.
        """
        try:
            make_private_folder(path.parent)
        except OSError as trouble:
            raise _disk_failure(path, "cannot make its folder", trouble) from trouble
        lock = lock_engine(path.parent, header.engine_name)
        try:
            descriptor = os.open(path, os.O_RDWR | os.O_CREAT | os.O_EXCL | os.O_APPEND, 0o600)
        except FileExistsError as exists:
            lock.release()
            raise InputWrongError(f"{path}: journal already exists") from exists
        except OSError as trouble:
            lock.release()
            raise _disk_failure(path, "cannot be written", trouble) from trouble
        journal = cls(path, lock, descriptor, b"", hash_chain.read_chain(b""))
        try:
            lock_descriptor(descriptor, header.engine_name, path)
            for kind, payload in header_records(header):
                journal.append(kind, payload)
            journal._head = journal._count
            journal.sync()
            _sync_folder(path.parent)
        except WorldFailedError:
            journal.close()
            with contextlib.suppress(OSError):  # leave no half of a header behind
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
        """Continue a journal. A torn last line is cut off and kept in a `torn` record.

        known: the journal as read before, at least with `reader.READING_EFFECTS`; not read again
        while the file is the same to the byte. lock: the engine's, where already held; released on
        any error. Raises as `create` does; InputWrongError when the journal was altered.
        """
        lock = lock or lock_engine(path.parent, engine_name)
        try:
            return cls._reopened(path, engine_name, lock, known)
        except OSError as trouble:
            raise _disk_failure(path, "cannot be opened", trouble) from trouble
        except NotAMessageError as wrong:
            raise InputWrongError(f"{path}: cannot go on with it: {wrong}") from wrong

    @classmethod
    def _reopened(
        cls, path: Path, engine_name: str, lock: Lock, known: JournalRecords | None
    ) -> Journal:
        descriptor = -1
        try:
            descriptor = os.open(path, os.O_RDWR | os.O_APPEND)
            lock_descriptor(descriptor, engine_name, path)  # a deleted lock file lets nobody in
            raw = path.read_bytes()
            same = known is not None and known.sha256 == hashlib.sha256(raw).hexdigest()
            chained = (
                known.chained if known and same else hash_chain.read_chain(raw, _READING_MARKS)
            )
            if chained.state == "altered":
                raise InputWrongError(f"{path}: cannot go on with it: {chained.why}")
            journal = cls(path, lock, descriptor, raw, chained)
            torn = raw[chained.whole_bytes :]
            os.fchmod(descriptor, PRIVATE_FILE)
            if torn:
                os.ftruncate(descriptor, chained.whole_bytes)
                text = torn.decode("utf-8", errors="replace")[:2000]
                journal.append("torn", {"bytes": len(torn), "text": text})
            return journal
        except BaseException:
            if descriptor >= 0:
                os.close(descriptor)
            lock.release()
            raise

    def append(self, kind: str, payload: Mapping[str, Any], at: float | None = None) -> int:
        """Write one record; returns its number. After WorldFailedError the file is as before."""
        self._at = self._at if at is None else at
        line = hash_chain.encode_line(self._count, self._at, kind, payload, self._before)
        self._write(line)
        self._before = hash_chain.hash_of(line[:-1])
        self._count += 1
        self._size += len(line)
        return self._count - 1

    def event(self, event: Event) -> None:
        """Write an event; one with a clip carries the hash of the clip's file on the disk."""
        payload: dict[str, Any] = {"event": to_record(event)}
        if isinstance(event, Heard) and event.clip is not None:
            payload[clips.HASH_KEY] = clips.sha256_of(self.path, event.clip)
        self.append("event", payload, event.at)

    def effect(self, at_s: float, effect: Effect) -> None:
        """Write an effect; a correction carries the number of the record that it corrects."""
        payload: dict[str, Any] = {"effect": to_record(effect)}
        if isinstance(effect, ReadingCorrected) and effect.old in self._in_force:
            payload["corrects"] = self._in_force.pop(effect.old)
        number = self.append("effect", payload, at_s)
        report = _report_in_force(effect)
        if report is not None:
            self._in_force[report] = number

    def seal(self) -> str:
        """Write a `sealed` record; returns the digest, to be spoken and written down elsewhere.

        The digest covers everything before that record, and nothing after it. The file is read
        once more: its date does not tell of a change in the same moment as a write.
        """
        self._date_ns = -1
        digest = hash_chain.digest_of(self._before)
        self.append("sealed", {"digest": digest})
        self.sync()
        return digest

    def sync(self) -> None:
        """Return when everything written so far is on the disk. WorldFailedError when it is not."""
        try:
            os.fsync(self._descriptor)
            now = os.fstat(self._descriptor)
        except OSError as trouble:
            raise _disk_failure(self.path, "cannot be brought to the disk", trouble) from trouble
        if now.st_nlink == 0:  # what is written is lost when the descriptor is closed
            raise WorldFailedError(f"{self.path}: the journal file was deleted while open")
        self._refuse_other_hand(now)

    def discard(self) -> None:
        """Take away a journal in which nothing happened yet, and close it."""
        if self._descriptor >= 0 and self._count == self._head:
            with contextlib.suppress(OSError):
                self.path.unlink()
        self.close()

    @property
    def digest(self) -> str:
        """The hash of the last line, which covers the whole journal so far."""
        return self._before

    def close(self) -> None:
        """Release the file and the engine's lock. A second call does nothing."""
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
            self._refuse_other_hand(os.fstat(self._descriptor))
            while left:
                left = left[os.write(self._descriptor, left) :]
            self._date_ns = os.fstat(self._descriptor).st_mtime_ns
        except OSError as trouble:
            with contextlib.suppress(OSError):  # no half record before the next one
                os.ftruncate(self._descriptor, self._size)
            raise _disk_failure(self.path, "cannot be written", trouble) from trouble
        self._sum.update(line)

    def _refuse_other_hand(self, now: os.stat_result) -> None:
        """WorldFailedError when the file is not what was written to it.

        It is read only when its date is another: a date alone proves nothing.
        """
        if now.st_size != self._size:
            what = "shortened" if now.st_size < self._size else "added to"
            raise WorldFailedError(f"{self.path}: was {what} by another program while open")
        if now.st_mtime_ns == self._date_ns:
            return
        found = hashlib.sha256()
        at = 0
        while more := os.pread(self._descriptor, _READ_BYTES, at):
            found.update(more)
            at += len(more)
        if found.digest() != self._sum.digest():
            raise WorldFailedError(f"{self.path}: was changed by another program while open")
        self._date_ns = now.st_mtime_ns


def readings_in_force(records: Iterable[hash_chain.Record]) -> dict[Report, int]:
    """The readings in force, each with the number of the record that accepted it."""
    number_of: dict[Report, int] = {}
    for record in records:
        if record.kind != "effect":
            continue
        effect = effect_from_record(record.payload.get("effect"))
        if isinstance(effect, ReadingCorrected):
            number_of.pop(effect.old, None)
        report = _report_in_force(effect)
        if report is not None:
            number_of[report] = record.n
    return number_of


def _report_in_force(effect: Effect) -> Report | None:
    if isinstance(effect, ReadingAccepted):
        return effect.report
    return effect.new if isinstance(effect, ReadingCorrected) else None


def _sync_folder(folder: Path) -> None:
    """Sync a folder: the name of a new file is on the disk only after that."""
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


def _disk_failure(path: Path, failure: str, trouble: OSError) -> WorldFailedError:
    return WorldFailedError(f"{path}: {failure}: {trouble.strerror or trouble}")
