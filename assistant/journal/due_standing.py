"""What is left until each due date, from the engine file and journals. Never a legal statement."""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from assistant.config.due_dates import Due
from assistant.config.engine_file import EngineFile
from assistant.journal.index import index_of
from assistant.journal.index_entry import IndexEntry
from assistant.messages import DueSoon

SOON_DAYS = 30.0  # judgement: time to call an inspector
SOON_HOURS = 10.0  # judgement: two days in steam


@dataclass(frozen=True, slots=True)
class DueStanding:
    """What is left of one interval: negative when overdue, None when the file gives no limit."""

    name: str
    days_left: int | None
    """By the calendar [days]."""
    hours_left: float | None
    """By hours in steam [h]."""

    @property
    def overdue(self) -> bool:
        """Whether either has run out."""
        days, hours = self.days_left, self.hours_left
        return (days is not None and days < 0) or (hours is not None and hours < 0.0)


def standings(
    dues: Iterable[Due], today: datetime.date, entries: Iterable[IndexEntry] = ()
) -> tuple[DueStanding, ...]:
    """What is left of each; entries: this engine's journals, whose hours in steam are counted."""
    journals = tuple(entries)
    return tuple(_standing(due, today, journals) for due in dues)


def worth_saying(
    dues: Iterable[Due], today: datetime.date, entries: Iterable[IndexEntry] = ()
) -> tuple[DueStanding, ...]:
    """What is overdue or nearly so, the most pressing first; the rest is only in the report."""
    dues = tuple(dues)
    pairs = zip(dues, standings(dues, today, entries), strict=True)
    soon = [standing for due, standing in pairs if standing.overdue or _soon(due, standing)]
    return tuple(sorted(soon, key=lambda s: (not s.overdue, s.days_left is None, s.days_left or 0)))


def _soon(due: Due, standing: DueStanding) -> bool:
    """Within a month or ten hours in steam, or within a quarter of a shorter interval."""
    days = SOON_DAYS if due.every_days is None else min(SOON_DAYS, due.every_days / 4)
    hours = SOON_HOURS if due.every_hours is None else min(SOON_HOURS, due.every_hours / 4)
    by_days, by_hours = standing.days_left, standing.hours_left
    return (by_days is not None and by_days <= days) or (by_hours is not None and by_hours <= hours)


def _standing(due: Due, today: datetime.date, entries: tuple[IndexEntry, ...]) -> DueStanding:
    by = due.due_by()
    hours = None
    if due.every_hours is not None:
        hours = due.every_hours - sum(_hours_since(due.last, entry) for entry in entries)
    return DueStanding(due.name, None if by is None else (by - today).days, hours)


def _hours_since(last: datetime.date | None, entry: IndexEntry) -> float:
    try:
        day = datetime.datetime.fromisoformat(entry.started).date()
    except ValueError:
        return 0.0
    return entry.in_steam_s / 3600.0 if last is None or day >= last else 0.0


def due_soon(engine: EngineFile, started: str, folder: Path) -> tuple[DueSoon, ...] | None:
    """What is overdue or nearly so; None when the engine file gives no due dates.

    started: ISO 8601. folder: this engine's journals, read only where hours in steam count.
    """
    if not engine.due:
        return None
    today = datetime.datetime.fromisoformat(started).date()
    by_hours = any(due.every_hours is not None for due in engine.due)
    name = engine.engine.name
    entries = [e for e in index_of(folder, name)[0] if e.engine_name == name] if by_hours else []
    return tuple(
        DueSoon(due.name, due.days_left, due.hours_left)
        for due in worth_saying(engine.due, today, entries)
    )
