"""The sounds kept beside a journal: notes said aloud, a file each, bounded. Knows bytes, no sound.

A journal's sounds lie in a folder of its name, ending in `.clips`. The record of the utterance
carries the file's name and its SHA-256, so that a sound that was changed can be named.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from assistant.journal.reader import JournalRecords
from assistant.messages import Heard

FOLDER_SUFFIX = ".clips"
HASH_KEY = "clip_sha256"  # in the record of the event, beside the event itself
_NAME = re.compile(r"[a-z0-9-]{1,40}\.flac")


@dataclass(frozen=True, slots=True)
class ClipLimits:
    """longest_s: of one note. most: of one journal. most_bytes: of all its sounds together."""

    longest_s: float = 30.0
    most: int = 60
    most_bytes: int = 20_000_000


@dataclass(frozen=True, slots=True)
class StoredClip:
    """One sound of a journal. n: number of its record. sound: None unless it is as it was kept."""

    n: int
    name: str
    state: Literal["whole", "changed", "gone"]
    sound: bytes | None = None

    @property
    def trouble(self) -> str:
        """What is the matter with it, empty when nothing is."""
        what = {"whole": "", "changed": "was changed", "gone": "is not there"}[self.state]
        return what and f"record {self.n}: its sound {self.name} {what}"


def folder_of(journal: Path) -> Path:
    """Where the sounds of a journal lie."""
    return journal.with_suffix(FOLDER_SUFFIX)


class ClipStore:
    """Keeps the sounds of one journal; for the thread that hears. Never raises.

    why: the reason of the last sound that was not kept.
    """

    def __init__(self, journal: Path, bounds: ClipLimits = ClipLimits()) -> None:
        self.folder = folder_of(journal)
        self._bounds = bounds
        self.why = ""
        self.count, self.size_bytes = _count_and_bytes(self.folder)

    def keep(self, sound: bytes) -> str | None:
        """Keep a sound, on the disk when this returns; its name, or None (and `why`)."""
        if self.count >= self._bounds.most:
            self.why = f"this journal has its {self._bounds.most} sounds"
            return None
        if self.size_bytes + len(sound) > self._bounds.most_bytes:
            most_mb = self._bounds.most_bytes // 1_000_000
            self.why = f"the sounds of this journal would pass {most_mb} MB"
            return None
        try:
            name = self._written(sound)
        except OSError as trouble:
            self.why = f"{self.folder}: cannot be written: {trouble.strerror or trouble}"
            return None
        self.count += 1
        self.size_bytes += len(sound)
        return name

    def _written(self, sound: bytes) -> str:
        self.folder.mkdir(parents=True, exist_ok=True)
        number = self.count + 1
        while (self.folder / f"note-{number:03d}.flac").exists():
            number += 1
        path = self.folder / f"note-{number:03d}.flac"
        try:
            with path.open("xb") as file:
                file.write(sound)
                file.flush()
                os.fsync(file.fileno())
        except OSError:
            with contextlib.suppress(OSError):  # half a sound is none
                path.unlink()
            raise
        return path.name


def _count_and_bytes(folder: Path) -> tuple[int, int]:
    """How many sounds a folder holds, and their bytes together."""
    try:
        sizes = [path.stat().st_size for path in folder.glob("*.flac")]
    except OSError:
        return 0, 0
    return len(sizes), sum(sizes)


def sha256_of(journal: Path, name: str) -> str | None:
    """The hash of a sound as it lies on the disk, None when it cannot be read."""
    sound = _clip_bytes(journal, name)
    return None if sound is None else hashlib.sha256(sound).hexdigest()


def _clip_bytes(journal: Path, name: str) -> bytes | None:
    if _NAME.fullmatch(name) is None:  # a name that leads elsewhere is not followed
        return None
    try:
        return (folder_of(journal) / name).read_bytes()
    except OSError:
        return None


def check_clips(kept: JournalRecords) -> tuple[StoredClip, ...]:
    """Every sound that a journal names, each compared with the hash in its record."""
    found = []
    for record in kept.records:
        event = record.payload.get("event") if record.kind == "event" else None
        if isinstance(event, dict) and event.get("is") == Heard.__name__:
            name = event.get("clip")
            if isinstance(name, str):
                found.append(_check_clip(kept.path, record.n, name, record.payload.get(HASH_KEY)))
    return tuple(found)


def _check_clip(journal: Path, n: int, name: str, kept_hash: object) -> StoredClip:
    sound = _clip_bytes(journal, name)
    if sound is None:
        return StoredClip(n, name, "gone")
    if hashlib.sha256(sound).hexdigest() != kept_hash:
        return StoredClip(n, name, "changed")
    return StoredClip(n, name, "whole", sound)
