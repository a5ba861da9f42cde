"""What was read on earlier steam-ups: from readings files or from journals, the same in the end."""

from __future__ import annotations

import datetime
from pathlib import Path

from assistant.boiler.figures import Engine
from assistant.boiler.history import fault
from assistant.errors import FootplateError, InputWrongError
from assistant.files import book, places
from assistant.files.readings_file import Readings, Row, read_readings
from assistant.messages import ReadingAccepted, ReadingCorrected, Report


def past_readings(path: Path, engine: Engine | None = None) -> Readings:
    """The readings of a readings file or a journal.

    Raises FileWrongError or InputWrongError; a journal of another engine is refused by name.
    """
    if path.suffix != book.SUFFIX:
        return read_readings(path, engine)
    kept = book.read(path)
    if kept.state == "altered":
        raise InputWrongError(f"{path}: was altered and is not learned from: {kept.why}")
    if kept.header is None:
        raise InputWrongError(f"{path}: the journal does not even hold its first records")
    name = kept.header.engine_name
    if engine is not None and name.casefold() != engine.name.casefold():
        raise InputWrongError(f"{path}: of another engine: '{name}', not '{engine.name}'")
    return readings_of(kept, engine)


def readings_of(kept: book.Book, engine: Engine | None = None) -> Readings:
    """The readings that stand at the end of a journal, with its corrections made.

    Of two readings of one thing at one time the later one stands. With an engine, what its gauges
    cannot show (its file may have changed since) is left out.
    """
    rows: list[Row] = []
    for turn in kept.turns():
        for effect in turn.effects:
            if isinstance(effect, ReadingAccepted):
                rows.append((turn.event.at, effect.report))
            elif isinstance(effect, ReadingCorrected):
                _correct(rows, turn.event.at, effect.old, effect.new)
    by_time = {(round(at_s, 3), report.what): (at_s, report) for at_s, report in rows}
    rows = [row for row in by_time.values() if engine is None or fault(engine, row[1]) is None]
    header = kept.header
    if header is None:
        return Readings(tuple(rows))
    return Readings(tuple(rows), _moment(header.started), header.engine_name)


def _moment(text: str) -> datetime.datetime | None:
    try:
        return datetime.datetime.fromisoformat(text)
    except ValueError:
        return None


def _correct(rows: list[Row], at_s: float, old: Report, new: Report | None) -> None:
    """The old reading goes; the new one stands at the time the old one was called."""
    place = next((i for i in reversed(range(len(rows))) if rows[i][1] == old), None)
    if place is not None:
        at_s = rows.pop(place)[0]
    if new is not None:
        rows.append((at_s, new))
        rows.sort(key=lambda row: row[0])


def earlier_journals(engine_name: str, folder: Path | None = None) -> tuple[Path, ...]:
    """The journals of this engine that can be learned from, the oldest first.

    One that was altered, or that a newer program wrote, is left out rather than stop a steam-up.
    """
    found = book.journals_of(folder or places.journals_folder(), engine_name)
    return tuple(path for path in found if _can_teach(path))


def _can_teach(path: Path) -> bool:
    try:
        kept = book.read(path)
        readings_of(kept)
    except FootplateError:
        return False
    return kept.state != "altered" and kept.header is not None
