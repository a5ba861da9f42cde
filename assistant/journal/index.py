"""All the journals of a folder, each in a line: engine, date, length, peak, alarms, sealed."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from pathlib import Path

from assistant.boiler.scales import PRESSURE_PA, pressure_gauge_pa
from assistant.errors import FootplateError, InputWrongError
from assistant.journal import reader
from assistant.journal.earlier_runs import WANTED as READINGS
from assistant.journal.earlier_runs import readings_of
from assistant.journal.hash_chain import Record, State
from assistant.messages import AlarmChanged, Ended, Report, Resumed

_INDEXED = (*READINGS, AlarmChanged.__name__, Ended.__name__, Resumed.__name__, "sealed")


@dataclass(frozen=True, slots=True)
class IndexEntry:
    """One journal. peak: the highest pressure reading as it was called, None without any.

    started: ISO 8601 as written. alarms: how many were raised. sealed: its digest, None without.
    in_steam_s: from the first to the last pressure that was called above nothing.
    """

    path: Path
    engine_name: str
    started: str
    length_s: float
    peak: Report | None
    alarms: int
    in_steam_s: float
    sealed: str | None
    finished: bool
    state: State


def index_of(
    folder: Path,
    engine_name: str | None = None,
    since: datetime.date | None = None,
    until: datetime.date | None = None,
) -> tuple[tuple[IndexEntry, ...], tuple[str, ...]]:
    """The journals of a folder, the oldest first, and a line for each that cannot be read.

    engine_name: only those whose engine has these words in its name. since, until: both ends count.
    """
    found, troubles = [], []
    for path in sorted(folder.glob(f"*{reader.SUFFIX}")):
        try:
            entry = entry_of(path)
        except FootplateError as trouble:
            troubles.append(str(trouble))
            continue
        if _matches(entry, engine_name, since, until):
            found.append(entry)
    return tuple(sorted(found, key=lambda entry: entry.started)), tuple(troubles)


def entry_of(path: Path) -> IndexEntry:
    """The line of one journal. InputWrongError when its first records are not there."""
    kept = reader.read(path, only=_INDEXED)
    if kept.begun is None:
        raise InputWrongError(f"{path}: {kept.lacks}")
    called = [(at_s, r) for at_s, r in readings_of(kept).rows if _is_pressure(r)]
    steam = [at_s for at_s, r in called if pressure_gauge_pa(r) > 0.0]
    seal = kept.seal
    return IndexEntry(
        path,
        str(kept.begun.get("engine_name")),
        str(kept.begun.get("started")),
        max((record.at for record in kept.records), default=0.0),
        max((r for _, r in called), key=pressure_gauge_pa, default=None),
        sum(_raised(record) for record in kept.records),
        max(steam) - min(steam) if steam else 0.0,
        None if seal is None else seal.digest,
        kept.finished,
        kept.state,
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
