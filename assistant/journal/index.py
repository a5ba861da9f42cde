"""The index of a folder's journals: engine, date, length, peak, alarms and seal of each."""

from __future__ import annotations

import datetime
from pathlib import Path

from assistant.boiler.scales import PRESSURE_PA, pressure_gauge_pa
from assistant.errors import FootplateError, InputWrongError
from assistant.journal import reader
from assistant.journal.earlier_runs import readings_of
from assistant.journal.hash_chain import Record
from assistant.journal.index_entry import IndexEntry
from assistant.journal.index_file import KeptIndex, stamp_of
from assistant.messages import AlarmChanged, Ended, Report, Resumed

# Names of the messages and records that an entry is made of; no others are decoded, for speed.
_INDEXED = (
    *reader.READING_EFFECTS,
    AlarmChanged.__name__,
    Ended.__name__,
    Resumed.__name__,
    "sealed",
)


def index_of(
    folder: Path,
    engine_name: str | None = None,
    since: datetime.date | None = None,
    until: datetime.date | None = None,
) -> tuple[tuple[IndexEntry, ...], tuple[str, ...]]:
    """The journals of a folder, the oldest first, and a line for each that cannot be read.

    engine_name: only engines with these words in their name. since, until: inclusive.
    """
    entries, troubles = [], []
    kept = KeptIndex(folder)
    paths = sorted(folder.glob(f"*{reader.SUFFIX}"))
    for path in paths:
        try:
            entry = kept.entry(path) or _read_entry(path, kept)
        except FootplateError as trouble:
            troubles.append(str(trouble))
            continue
        if _matches(entry, engine_name, since, until):
            entries.append(entry)
    kept.write(path.name for path in paths)
    return tuple(sorted(entries, key=lambda entry: entry.started)), tuple(troubles)


def _read_entry(path: Path, kept: KeptIndex) -> IndexEntry:
    stamp = stamp_of(path)  # before it is read: what is written meanwhile is read next time
    entry = entry_of(path)
    kept.add(stamp, entry)
    return entry


def entry_of(path: Path) -> IndexEntry:
    """The entry of one journal. InputWrongError when its first records are not complete."""
    journal = reader.read(path, only=_INDEXED)
    if journal.start_record is None:
        raise InputWrongError(f"{path}: {journal.unusable}")
    pressures = [(at_s, r) for at_s, r in readings_of(journal).rows if _is_pressure(r)]
    in_steam = [at_s for at_s, r in pressures if pressure_gauge_pa(r) > 0.0]
    seal = journal.seal
    return IndexEntry(
        path,
        str(journal.start_record.get("engine_name")),
        str(journal.start_record.get("started")),
        max((record.at for record in journal.records), default=0.0),
        max((r for _, r in pressures), key=pressure_gauge_pa, default=None),
        sum(_raised(record) for record in journal.records),
        max(in_steam) - min(in_steam) if in_steam else 0.0,
        None if seal is None else seal.digest,
        journal.finished,
        journal.state,
    )


def _is_pressure(report: Report) -> bool:
    return (
        report.what == "pressure"
        and report.unit in PRESSURE_PA
        and not isinstance(report.value, str)
    )


def _raised(record: Record) -> bool:
    effect = record.payload.get("effect")
    if not isinstance(effect, dict) or effect.get("is") != AlarmChanged.__name__:
        return False
    return effect.get("state") == "raised"


def _matches(
    entry: IndexEntry,
    engine_name: str | None,
    since: datetime.date | None,
    until: datetime.date | None,
) -> bool:
    if engine_name is not None and engine_name.casefold() not in entry.engine_name.casefold():
        return False
    try:
        day = datetime.datetime.fromisoformat(entry.started).date()
    except ValueError:
        return since is None and until is None
    return (since is None or day >= since) and (until is None or day <= until)
