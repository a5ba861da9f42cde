"""The readings of earlier steam-ups, from readings files or from journals in one form."""

from __future__ import annotations

import datetime
from pathlib import Path

from assistant.belief.history import report_fault
from assistant.boiler.figures import Engine
from assistant.config import paths
from assistant.config.readings_file import Readings, Row, read_readings
from assistant.errors import FootplateError, InputWrongError
from assistant.journal import reader
from assistant.journal.codec import NotAMessageError, effect_from_record
from assistant.messages import ReadingAccepted, ReadingCorrected, Report

MAX_EARLIER = 8  # an engine changes with time, and reading many would delay the start


def past_readings(path: Path, engine: Engine | None = None) -> Readings:
    """The readings of a readings file or a journal.

    Raises FileWrongError or InputWrongError; a journal of another engine is refused by name.
    """
    if path.suffix != reader.SUFFIX:
        return read_readings(path, engine)
    journal = reader.read(path, only=reader.READING_EFFECTS)
    if journal.state == "altered":
        raise InputWrongError(f"{path}: was altered and is not learned from: {journal.why}")
    if journal.start_record is None:
        raise InputWrongError(f"{path}: {journal.unusable}")
    name = str(journal.start_record.get("engine_name"))
    if engine is not None and name.casefold() != engine.name.casefold():
        raise InputWrongError(f"{path}: of another engine: '{name}', not '{engine.name}'")
    return readings_of(journal, engine)


def readings_of(journal: reader.JournalRecords, engine: Engine | None = None) -> Readings:
    """The readings in force at the end of a journal, with corrections applied.

    Of two readings of one subject at one time the later counts. With an engine, readings that its
    gauges cannot show are left out, because its file may have changed since.
    """
    rows: list[Row] = []
    for record in journal.records:
        effect = record.payload.get("effect") if record.kind == "effect" else None
        if isinstance(effect, dict) and effect.get("is") in reader.READING_EFFECTS:
            _apply(rows, record.at, effect, journal.path)
    by_time = {(round(at_s, 3), report.what): (at_s, report) for at_s, report in rows}
    rows = [
        row for row in by_time.values() if engine is None or report_fault(engine, row[1]) is None
    ]
    start_record = journal.start_record or {}
    name = start_record.get("engine_name")
    return Readings(
        tuple(rows),
        _datetime_or_none(str(start_record.get("started"))),
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
    """Replace the old reading by the new one, at the time of the old one."""
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

    One that was altered, or that a newer program wrote, is skipped: it must not stop a steam-up.
    """
    newest: list[Path] = []
    for path in reader.newest_first(folder or paths.journals_folder(), engine_name):
        if len(newest) == most:
            break
        if _has_readings(path):
            newest.append(path)
    return tuple(reversed(newest))


def _has_readings(path: Path) -> bool:
    try:
        return bool(past_readings(path).rows)
    except FootplateError:
        return False
