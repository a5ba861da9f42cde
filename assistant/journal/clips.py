"""The clips of a journal: the sound of notes, one file each, limited in number and size.

Knows bytes, no sound. The clips are in a folder named after the journal, ending in `.clips`; the
record of the utterance carries the file's name and its SHA-256, so that any change is found.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from assistant.config.positioned_yaml import read_bytes
from assistant.config.private_files import PRIVATE_FILE, make_private_folder
from assistant.errors import InputWrongError
from assistant.journal.reader import JournalRecords
from assistant.messages import Heard

FOLDER_SUFFIX = ".clips"
HASH_KEY = "clip_sha256"  # in the record of the event, beside the event itself
_MOST_BYTES = 100_000_000  # of one clip that is read; far more than any that is written
_NAME = re.compile(r"[a-z0-9-]{1,40}\.flac")


@dataclass(frozen=True, slots=True)
class ClipLimits:
    """How much is kept for one journal."""

    longest_s: float = 30.0
    """Of one clip."""
    most: int = 60
    """Number of clips."""
    most_bytes: int = 20_000_000
    """Of all clips together."""


@dataclass(frozen=True, slots=True)
class StoredClip:
    """One clip that a journal names."""

    n: int
    """Number of the record that names it."""
    name: str
    state: Literal["whole", "changed", "gone"]
    sound: bytes | None = None
    """Its content, None unless it is unchanged."""

    @property
    def trouble(self) -> str:
        """What is wrong with it, empty when nothing is."""
        fault = {"whole": "", "changed": "was changed", "gone": "is not there"}[self.state]
        return fault and f"record {self.n}: its sound {self.name} {fault}"


def folder_of(journal: Path) -> Path:
    """The folder of a journal's clips."""
    return journal.with_suffix(FOLDER_SUFFIX)


class ClipStore:
    """Writes the clips of one journal, from the recogniser's thread. Never raises."""

    def __init__(self, journal: Path, bounds: ClipLimits = ClipLimits()) -> None:
        self.folder = folder_of(journal)
        self._bounds = bounds
        self.why = ""  # the reason why the last clip was not kept
        self.count, self.size_bytes = _count_and_bytes(self.folder)

    def keep(self, sound: bytes) -> str | None:
        """Write and sync a clip; returns its name, or None with the reason in `why`."""
        if self.count >= self._bounds.most:
            self.why = f"this journal has its {self._bounds.most} sounds"
            return None
        if self.size_bytes + len(sound) > self._bounds.most_bytes:
            most_mb = self._bounds.most_bytes // 1_000_000
            self.why = f"the sounds of this journal would pass {most_mb} MB"
            return None
        try:
            name = self._write(sound)
        except OSError as trouble:
            self.why = f"{self.folder}: cannot be written: {trouble.strerror or trouble}"
            return None
        self.count += 1
        self.size_bytes += len(sound)
        return name

    def _write(self, sound: bytes) -> str:
        make_private_folder(self.folder)
        number = self.count + 1
        while (self.folder / f"note-{number:03d}.flac").exists():
            number += 1
        path = self.folder / f"note-{number:03d}.flac"
        try:
            descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, PRIVATE_FILE)
            with os.fdopen(descriptor, "wb") as file:
                file.write(sound)
                file.flush()
                os.fsync(file.fileno())
        except OSError:
            with contextlib.suppress(OSError):  # leave no half of a clip behind
                path.unlink()
            raise
        return path.name


def _count_and_bytes(folder: Path) -> tuple[int, int]:
    """The number of clips in a folder, and their size together [bytes]."""
    try:
        sizes = [path.stat().st_size for path in folder.glob("*.flac")]
    except OSError:
        return 0, 0
    return len(sizes), sum(sizes)


def sha256_of(journal: Path, name: str) -> str | None:
    """The hash of a clip's file on the disk, None when it cannot be read."""
    sound = _clip_bytes(journal, name)
    return None if sound is None else hashlib.sha256(sound).hexdigest()


def _clip_bytes(journal: Path, name: str) -> bytes | None:
    if _NAME.fullmatch(name) is None:  # never a path out of the folder
        return None
    try:
        return read_bytes(folder_of(journal) / name, _MOST_BYTES)
    except InputWrongError:
        return None


def check_clips(journal: JournalRecords) -> tuple[StoredClip, ...]:
    """Every clip that a journal names, compared with the hash in its record."""
    checked = []
    for record in journal.records:
        event = record.payload.get("event") if record.kind == "event" else None
        if isinstance(event, dict) and event.get("is") == Heard.__name__:
            name = event.get("clip")
            if isinstance(name, str):
                clip_hash = record.payload.get(HASH_KEY)
                checked.append(_check_clip(journal.path, record.n, name, clip_hash))
    return tuple(checked)


def _check_clip(journal: Path, n: int, name: str, written_hash: object) -> StoredClip:
    sound = _clip_bytes(journal, name)
    if sound is None:
        return StoredClip(n, name, "gone")
    if hashlib.sha256(sound).hexdigest() != written_hash:
        return StoredClip(n, name, "changed")
    return StoredClip(n, name, "whole", sound)
