"""The first records of a journal: all that a replay needs years later, texts and hashes too."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from assistant import __version__
from assistant.errors import InputWrongError
from assistant.journal.hash_chain import Record

FORMAT = 1  # raised when an older program could no longer read what we write
ROLES = ("engine", "checklist", "emergencies", "calibration", "past")


@dataclass(frozen=True, slots=True)
class KeptText:
    """The text of a file that the session was made of. role: one of `ROLES`."""

    role: str
    file: str
    text: str

    @property
    def sha256(self) -> str:
        """Hash of the text in UTF-8."""
        return hashlib.sha256(self.text.encode("utf-8")).hexdigest()


@dataclass(frozen=True, slots=True)
class Header:
    """What stands in the first records.

    started: date and time with zone, ISO 8601. kept: the engine file first, then all others.
    how: "live", "typed", "script" or "rehearsal". program: version of the program that wrote it.
    """

    engine_name: str
    started: str
    seed: int
    atmosphere_pa: float
    kept: tuple[KeptText, ...]
    how: str = "live"
    program: str = __version__
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
    """The header that the records begin with, None when they do not hold all of it.

    Raises InputWrongError when a newer program wrote it.
    """
    head = list(records)[: 1 + 1000]
    if not head or head[0].kind != "journal":
        return None
    first = head[0].payload
    refuse_newer(first)
    try:
        kept = head[1 : 1 + int(first["kept"])]
        if len(kept) < int(first["kept"]):
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


def refuse_newer(first: Mapping[str, Any]) -> None:
    """InputWrongError when the first record is of a format that this program does not know."""
    written = first.get("format")
    if isinstance(written, int) and written > FORMAT:
        program = str(first.get("program", "?"))[:20]
        raise InputWrongError(
            f"written by a newer program (version {program}, format {written});"
            f" this one reads format {FORMAT}"
        )
