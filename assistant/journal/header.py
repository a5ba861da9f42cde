"""The first records of a journal: what a replay needs, with the texts the session is made of."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from assistant import __version__
from assistant.errors import InputWrongError
from assistant.journal.hash_chain import Record

FORMAT = 2  # to be raised when older programs could no longer read what is written
LONGEST_TEXT = 300  # characters of a text of the first record; a name has 80 at most
ROLES = ("engine", "checklist", "emergencies", "calibration", "past")


@dataclass(frozen=True, slots=True)
class KeptText:
    """The text of a file that the session is made of."""

    role: str
    """One of `ROLES`."""
    file: str
    text: str

    @property
    def sha256(self) -> str:
        """Hash of the text in UTF-8."""
        return hashlib.sha256(self.text.encode("utf-8")).hexdigest()


@dataclass(frozen=True, slots=True)
class Header:
    """The content of the first records."""

    engine_name: str
    started: str
    """Date and time with zone, ISO 8601."""
    seed: int
    """Of a rehearsal; 0 otherwise."""
    atmosphere_pa: float
    kept: tuple[KeptText, ...]
    """The engine file first, then all others."""
    how: str = "live"
    """live, typed, script or rehearsal."""
    program: str = __version__
    """The version of the program that wrote it."""
    format: int = FORMAT

    def text_of(self, role: str) -> KeptText | None:
        """The first kept text of a role."""
        return next((kept for kept in self.kept if kept.role == role), None)

    def texts_of(self, role: str) -> tuple[KeptText, ...]:
        """All kept texts of a role."""
        return tuple(kept for kept in self.kept if kept.role == role)


def header_records(header: Header) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """The first records as (kind, payload)."""
    yield (
        "journal",
        {
            "format": header.format,
            "program": header.program,
            "engine_name": header.engine_name,
            "started": header.started,
            "seed": header.seed,
            "atmosphere_pa": header.atmosphere_pa,
            "how": header.how,
            "kept": len(header.kept),
        },
    )
    for kept in header.kept:
        if kept.role not in ROLES:
            raise ValueError(f"no role {kept.role!r}")
        yield kept.role, {"file": kept.file, "text": kept.text, "sha256": kept.sha256}


def header_from(records: Iterable[Record]) -> Header | None:
    """The header at the start of the records, None when it is not complete.

    Raises InputWrongError when a newer program wrote it.
    """
    head = list(records)[: 1 + 1000]
    if not head or head[0].kind != "journal":
        return None
    first = head[0].payload
    refuse_newer(first)
    if not is_of_our_size(first):
        return None
    try:
        if type(first["kept"]) is not int or first["kept"] < 0:  # a truth value is no number
            return None
        if not is_of_the_air(float(first["atmosphere_pa"])):
            return None
        kept = head[1 : 1 + first["kept"]]
        if len(kept) < first["kept"]:
            return None
        return Header(
            str(first["engine_name"]),
            str(first["started"]),
            int(first["seed"]),
            float(first["atmosphere_pa"]),
            tuple(KeptText(r.kind, str(r.payload["file"]), str(r.payload["text"])) for r in kept),
            str(first["how"]),
            str(first["program"]),
            int(first["format"]),
        )
    except (KeyError, TypeError, ValueError, OverflowError):
        return None


def is_of_our_size(first: Mapping[str, Any]) -> bool:
    """Whether the texts of a first record are no longer than any that we write.

    They are printed in lists, pages and file names: a longer one is somebody else's mischief.
    """
    return all(len(text) <= LONGEST_TEXT for text in first.values() if isinstance(text, str))


def is_of_the_air(pressure_pa: float) -> bool:
    """Whether it may be a pressure of the air [Pa]: from as high as anybody lives to the deepest
    mine; no other is written.
    """
    return 40_000.0 <= pressure_pa <= 120_000.0


def refuse_newer(first: Mapping[str, Any]) -> None:
    """Raise InputWrongError when the first record is of a newer format than this program's."""
    number = first.get("format")
    if isinstance(number, int) and number > FORMAT:
        program = str(first.get("program", "?"))[:20]
        raise InputWrongError(
            f"written by a newer program (version {program}, format {number});"
            f" this one reads format {FORMAT}"
        )
