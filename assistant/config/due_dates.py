"""The `due` part of an engine file: when its examinations and tests were last done, and how often.

Only what the owner wrote; it says nothing of what any law asks for.
"""

from __future__ import annotations

import datetime
import re
from dataclasses import dataclass

from assistant.config.field_readers import (
    want_keys,
    want_quantity,
    want_scalar,
    want_table,
    want_text,
)
from assistant.config.positioned_yaml import Problems, Scalar, Table
from assistant.config.units import DAY_S


@dataclass(frozen=True, slots=True)
class Due:
    """One thing that comes round.

    name: as the owner wrote it ("hydraulic test"). by: the date it is due at the latest.
    last: when it was done last. every_days: how often by the calendar. every_hours: how often by
    hours in steam; counting them needs the journals. Each None where the file leaves it out.
    """

    name: str
    by: datetime.date | None = None
    last: datetime.date | None = None
    every_days: float | None = None
    every_hours: float | None = None

    def due_by(self) -> datetime.date | None:
        """The earliest calendar date that the figures give, None when there is none."""
        dates = [] if self.by is None else [self.by]
        if self.last is not None and self.every_days is not None:
            dates.append(self.last + datetime.timedelta(days=self.every_days))
        return min(dates, default=None)


def due_dates(found: Problems, due: Table | None) -> tuple[Due, ...]:
    """Every entry: `name: 2027-05-01`, or a table with by, last, every, every_in_steam."""
    if due is None:
        return ()
    entries = []
    for name, (_, node) in due.entries.items():
        if isinstance(node, Scalar):
            entries.append(Due(name, by=_date(found, due, name)))
            continue
        table = want_table(found, due, name)
        if table is None:
            continue
        want_keys(found, table, (), ("by", "last", "every", "every_in_steam"), f"'{name}'")
        days = _every(found, table)
        hours = want_quantity(found, table, "every_in_steam", "time", "1 hour", "20000 hours")
        entries.append(
            Due(
                name,
                _date(found, table, "by"),
                _date(found, table, "last"),
                days,
                None if hours is None else hours.si / 3600.0,
            )
        )
        if not {"by", "every", "every_in_steam"} & set(table.entries):
            found.add(table, f"'{name}': say 'by', 'every' or 'every_in_steam'")
    return tuple(entries)


def _date(found: Problems, table: Table, key: str) -> datetime.date | None:
    scalar = want_scalar(found, table.get(key), f"'{key}'")
    if scalar is None:
        return None
    try:
        if not re.fullmatch(r"\d{4}-\d\d-\d\d", scalar.text.strip()):
            raise ValueError
        date = datetime.date.fromisoformat(scalar.text.strip())
        if not 1900 <= date.year <= 2200:
            raise ValueError
        return date
    except ValueError:
        found.add(scalar, f"'{key}': a date is wanted, year-month-day (for example: 2027-05-01)")
        return None


def _every(found: Problems, table: Table) -> float | None:
    """How often, in days; months and years by the calendar's mean length."""
    text = want_text(found, table, "every", 40)
    match = re.fullmatch(r"(\d{1,4})\s*(months?|years?|weeks?)", text or "")
    if match:
        of = {"m": 365.25 / 12, "y": 365.25, "w": 7.0}[match[2][0]]
        return int(match[1]) * of
    wanted = want_quantity(found, table, "every", "time", "1 day", "20000 days") if text else None
    return None if wanted is None else wanted.si / DAY_S
