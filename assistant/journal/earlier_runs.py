"""What was read on earlier steam-ups: from readings files or from journals, the same in the end."""

from __future__ import annotations

import datetime
from pathlib import Path

from assistant.belief.history import report_fault
from assistant.boiler.figures import Engine
from assistant.config import paths
from assistant.config.engine_file import EngineFile
from assistant.config.readings_file import Readings, Row, read_readings
from assistant.errors import FootplateError, InputWrongError
from assistant.journal import reader
from assistant.journal.codec import NotAMessageError, effect_from_record
from assistant.messages import ReadingAccepted, ReadingCorrected, Report

WANTED = (ReadingAccepted.__name__, ReadingCorrected.__name__)
MAX_EARLIER = 8  # an engine changes, and a day's start must not wait for years of journals


def past_readings(path: Path, engine: Engine | None = None) -> Readings:
    """The readings of a readings file or a journal.

    Raises FileWrongError or InputWrongError; a journal of another engine is refused by name.
    """
    if path.suffix != reader.SUFFIX:
        return read_readings(path, engine)
    kept = reader.read(path, only=WANTED)
    if kept.state == "altered":
        raise InputWrongError(f"{path}: was altered and is not learned from: {kept.why}")
    if kept.begun is None:
        raise InputWrongError(f"{path}: {kept.lacks}")
    name = str(kept.begun.get("engine_name"))
    if engine is not None and name.casefold() != engine.name.casefold():
        raise InputWrongError(f"{path}: of another engine: '{name}', not '{engine.name}'")
    return readings_of(kept, engine)


def load_readings(path: Path, engine: EngineFile | None = None) -> tuple[Row, ...]:
    """The rows of a readings file or of a journal, checked against the engine when there is one."""
    from assistant.journal.earlier_runs import (
        past_readings,  # reads journals, and builds on this module
    )

    return past_readings(path, None if engine is None else engine.engine).rows


def readings_of(kept: reader.JournalRecords, engine: Engine | None = None) -> Readings:
    """The readings that stand at the end of a journal, with its corrections made.

    Of two readings of one thing at one time the later one stands. With an engine, what its gauges
    cannot show (its file may have changed since) is left out.
    """
    rows: list[Row] = []
    for record in kept.records:
        effect = record.payload.get("effect") if record.kind == "effect" else None
        if isinstance(effect, dict) and effect.get("is") in WANTED:
            _apply(rows, record.at, effect, kept.path)
    by_time = {(round(at_s, 3), report.what): (at_s, report) for at_s, report in rows}
    rows = [
        row for row in by_time.values() if engine is None or report_fault(engine, row[1]) is None
    ]
    begun = kept.begun or {}
    name = begun.get("engine_name")
    return Readings(
        tuple(rows),
        _datetime_or_none(str(begun.get("started"))),
        name if isinstance(name, str) else None,
    )


def _apply(rows: list[Row], at_s: float, shape: object, path: Path) -> None:
    try:
        effect = effect_from_record(shape)
    except NotAMessageError as wrong:
        raise InputWrongError(f"{path}: {wrong}") from wrong
    if isinstance(effect, ReadingAccepted):
        rows.append((at_s, effect.report))
    elif isinstance(effect, ReadingCorrected):
        _correct(rows, at_s, effect.old, effect.new)


def _correct(rows: list[Row], at_s: float, old: Report, new: Report | None) -> None:
    """The old reading goes; the new one stands at the time the old one was called."""
    place = next((i for i in reversed(range(len(rows))) if rows[i][1] == old), None)
    if place is not None:
        at_s = rows.pop(place)[0]
    if new is not None:
        rows.append((at_s, new))
        rows.sort(key=lambda row: row[0])


def _datetime_or_none(text: str) -> datetime.datetime | None:
    try:
        return datetime.datetime.fromisoformat(text)
    except ValueError:
        return None


def earlier_journals(
    engine_name: str, folder: Path | None = None, most: int = MAX_EARLIER
) -> tuple[Path, ...]:
    """The newest journals of this engine that can be learned from, the oldest of them first.

    One that was altered, or that a newer program wrote, is left out rather than stop a steam-up.
    """
    found: list[Path] = []
    for path in reversed(reader.journals_of(folder or paths.journals_folder(), engine_name)):
        if len(found) < most and _can_teach(path):
            found.append(path)
    return tuple(reversed(found))


def _can_teach(path: Path) -> bool:
    try:
        return bool(past_readings(path).rows)
    except FootplateError:
        return False
