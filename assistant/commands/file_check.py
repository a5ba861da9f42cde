"""The problems of a file of any kind, all at once. The kind is recognised by the content."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Literal

from assistant.boiler.figures import Engine
from assistant.config.calibration_file import load_calibration
from assistant.config.checklist_file import load_checklist
from assistant.config.cross_checks import list_problems
from assistant.config.emergencies_file import load_emergencies
from assistant.config.engine_file import load_engine
from assistant.config.positioned_yaml import read_bytes
from assistant.config.readings_file import read_readings
from assistant.errors import FileWrongError, InputWrongError, Problem
from assistant.journal import reader
from assistant.procedure.validation import emergency_objections

FileKind = Literal[
    "engine", "checklist", "emergencies", "calibration", "readings", "journal", "unknown"
]
_MAX_BYTES = 200_000_000

# Words that begin lines of this kind of file and hardly of another; the kind with most of them.
_MARKS: dict[FileKind, tuple[str, ...]] = {
    "engine": (
        "working_pressure:",
        "safety_valve:",
        "boiler:",
        "glass:",
        "fire:",
        "tank:",
        "pump:",
    ),
    "checklist": ("steps:", "phase:", "extends:", "symptom:", "title:", "leave_out:"),
    "emergencies": ("emergencies:", "general:", "ending:"),
    "calibration": ("calibration_of:", "points:"),
}


def file_kind_of(path: Path) -> FileKind:
    """The kind of a file, by its content. InputWrongError when it cannot be read."""
    raw = read_bytes(path, _MAX_BYTES)
    text = raw[:200_000].decode("utf-8", errors="replace").removeprefix("\ufeff").lstrip()
    if text.startswith("{"):
        return "journal"
    lines = [line for line in text.splitlines() if line.strip() and not line.startswith("#")]
    if lines and ("," in lines[0] or ";" in lines[0]) and "what" in lines[0].lower():
        return "readings"
    counts: dict[FileKind, int] = {
        kind: sum(line.startswith(mark) for line in lines for mark in marks)
        for kind, marks in _MARKS.items()
    }
    best = max(counts, key=lambda kind: counts[kind])
    return best if counts[best] else _by_suffix(path)


def _by_suffix(path: Path) -> FileKind:
    suffixes: dict[str, FileKind] = {".csv": "readings", reader.SUFFIX: "journal"}
    return suffixes.get(path.suffix.lower(), "unknown")


def check_file(path: Path, engine: Engine | None = None) -> tuple[Problem, ...]:
    """All problems of a file.

    engine: whose gauges the readings, and whose boiler the calibration, must fit.
    Raises InputWrongError when there is no such file.
    """
    try:
        kind = file_kind_of(path)
        if kind == "unknown":
            whole = "neither an engine, a checklist, readings nor a journal"
            return (Problem(str(path), 0, 0, whole),)
        CHECKS[kind](path, engine)
    except FileWrongError as wrong:
        return wrong.problems
    return ()


def _check_journal(path: Path) -> None:
    journal = reader.read(path)
    line = 0 if journal.where is None else journal.where + 1
    if journal.state != "whole":
        raise FileWrongError((Problem(str(path), line, 1, f"{journal.state}: {journal.why}"),))
    if journal.header is None:
        raise FileWrongError(
            (Problem(str(path), 1, 1, journal.unusable or "its first record is not understood"),)
        )
    try:
        for _ in journal.exchanges():
            pass
    except InputWrongError as wrong:
        raise FileWrongError((Problem(str(path), 0, 0, str(wrong)),)) from wrong


def _check_checklist(path: Path) -> None:
    problems = list_problems(load_checklist(path))
    if problems:
        raise FileWrongError(problems)


def _check_emergencies(path: Path) -> None:
    problems = emergency_objections(load_emergencies(path))
    if problems:
        raise FileWrongError(problems)


CHECKS: dict[FileKind, Callable[[Path, Engine | None], object]] = {
    "engine": lambda path, _: load_engine(path),
    "checklist": lambda path, _: _check_checklist(path),
    "emergencies": lambda path, _: _check_emergencies(path),
    "calibration": load_calibration,
    "readings": read_readings,
    "journal": lambda path, _: _check_journal(path),
}
