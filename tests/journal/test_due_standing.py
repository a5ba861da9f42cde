"""Due dates by the calendar and by hours in steam."""

from __future__ import annotations

import datetime
from pathlib import Path

from assistant.config.due_dates import Due
from assistant.journal.due_standing import DueStanding, standings, worth_saying
from assistant.journal.index_entry import IndexEntry

TODAY = datetime.date(2026, 5, 10)


def day(started: str, hours: float) -> IndexEntry:
    path = Path("j.jsonl")
    return IndexEntry(path, "E", started, 0.0, None, 0, hours * 3600.0, None, True, "whole")


def test_by_the_calendar() -> None:
    dues = (
        Due("examination", by=datetime.date(2026, 5, 12)),
        Due("washout", last=datetime.date(2026, 4, 1), every_days=30.0),
        Due("plug"),
    )
    assert standings(dues, TODAY) == (
        DueStanding("examination", 2, None),
        DueStanding("washout", -9, None),
        DueStanding("plug", None, None),
    )
    assert [one.overdue for one in standings(dues, TODAY)] == [False, True, False]


def test_hours_in_steam_count_from_the_day_it_was_done() -> None:
    washout = Due("washout", last=datetime.date(2026, 4, 1), every_hours=10.0)
    entries = (
        day("2026-03-31T09:00:00+01:00", 50.0),
        day("2026-04-01T09:00:00+01:00", 4.0),
        day("2026-05-01T09:00:00+01:00", 5.5),
        day("no date", 70.0),
    )
    assert standings((washout,), TODAY, entries) == (DueStanding("washout", None, 0.5),)
    (over,) = standings((washout,), TODAY, (*entries, day("2026-05-09T09:00:00+01:00", 1.0)))
    assert over.overdue


def test_what_comes_first_counts() -> None:
    last = datetime.date(2026, 4, 1)
    both = Due("test", by=datetime.date(2026, 5, 20), last=last, every_days=365.0)
    assert both.due_by() == datetime.date(2026, 5, 20)


def test_worth_saying_is_what_has_run_out_and_what_soon_will() -> None:
    by = datetime.date
    dues = (
        Due("far", by=by(2027, 5, 10)),
        Due("month", by=by(2026, 6, 9)),
        Due("weekly, done", last=by(2026, 5, 8), every_days=7.0),
        Due("weekly, soon", last=by(2026, 5, 4), every_days=7.0),
        Due("over", by=by(2026, 5, 9)),
        Due("hours", last=by(2026, 4, 1), every_hours=60.0),
        Due("few hours", last=by(2026, 4, 1), every_hours=8.0),
        Due("nothing told"),
    )
    said = worth_saying(dues, TODAY, (day("2026-05-01T09:00:00+01:00", 6.5),))
    assert [one.name for one in said] == ["over", "weekly, soon", "month", "few hours"]
