"""The `due` part of an engine file: when examinations and tests were last done, and how often.

Only what the owner wrote; what any law requires is not known here.
"""

from __future__ import annotations

import datetime
import re
from dataclasses import dataclass

from assistant.config import json_form
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
    """One recurring examination or test. A field is None where the file leaves it out."""

    name: str
    """As the owner wrote it ("hydraulic test")."""
    by: datetime.date | None = None
    """The date it is due at the latest."""
    last: datetime.date | None = None
    """The date it was last done."""
    every_days: float | None = None
    """Its interval by the calendar [days]."""
    every_hours: float | None = None
    """Its interval by hours in steam [h], which are counted from the journals."""

    def due_by(self) -> datetime.date | None:
        """The earliest calendar date that the figures give, None when there is none."""
        dates = [] if self.by is None else [self.by]
        if self.last is not None and self.every_days is not None:
            dates.append(self.last + datetime.timedelta(days=self.every_days))
        return min(dates, default=None)


def due_dates(problems: Problems, due: Table | None) -> tuple[Due, ...]:
    """Every entry: `name: 2027-05-01`, or a table with by, last, every, every_in_steam."""
    if due is None:
        return ()
    problems.asked_names(due)
    entries = []
    for name, (_, node) in due.entries.items():
        if isinstance(node, Scalar):
            entries.append(Due(name, by=_date(problems, due, name)))
            continue
        table = want_table(problems, due, name)
        if table is None:
            continue
        want_keys(problems, table, (), ("by", "last", "every", "every_in_steam"), f"'{name}'")
        days = _every(problems, table)
        hours = want_quantity(problems, table, "every_in_steam", "time", "1 hour", "20000 hours")
        entries.append(
            Due(
                name,
                _date(problems, table, "by"),
                _date(problems, table, "last"),
                days,
                None if hours is None else hours.si / 3600.0,
            )
        )
        if not {"by", "every", "every_in_steam"} & set(table.entries):
            problems.add(table, f"'{name}': say 'by', 'every' or 'every_in_steam'")
    return tuple(entries)


def _date(problems: Problems, table: Table, key: str) -> datetime.date | None:
    problems.asked(table, key, json_form.date())
    scalar = want_scalar(problems, table.get(key), f"'{key}'")
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
        problems.add(scalar, f"'{key}': a date is wanted, year-month-day (for example: 2027-05-01)")
        return None


def _every(problems: Problems, table: Table) -> float | None:
    """The interval in days; months and years by their mean length in the calendar."""
    text = want_text(problems, table, "every", 40)
    match = re.fullmatch(r"(\d{1,4})\s*(months?|years?|weeks?)", text or "")
    if match:
        days_of = {"m": 365.25 / 12, "y": 365.25, "w": 7.0}[match[2][0]]
        return int(match[1]) * days_of
    wanted = (
        want_quantity(problems, table, "every", "time", "1 day", "20000 days") if text else None
    )
    return None if wanted is None else wanted.si / DAY_S
