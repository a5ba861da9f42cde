"""The due dates of an engine file: by date, by interval, by hours in steam; the earliest counts."""

from __future__ import annotations

import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.config.due_dates import Due, due_dates
from assistant.config.positioned_yaml import Problems, parse

DATES = st.dates(datetime.date(1950, 1, 1), datetime.date(2150, 1, 1))


def read(text: str) -> tuple[tuple[Due, ...], list[str]]:
    problems = Problems("e.yaml")
    return due_dates(problems, parse(text, problems)), [p.message for p in problems.sorted()]


def test_a_date_alone_and_a_table() -> None:
    dues, problems = read(
        "hydraulic test: 2027-05-01\n"
        "washout: {last: 2026-04-01, every: 2 weeks, every_in_steam: 60 hours}\n"
    )
    assert problems == []
    assert dues == (
        Due("hydraulic test", by=datetime.date(2027, 5, 1)),
        Due("washout", None, datetime.date(2026, 4, 1), 14.0, 60.0),
    )


@pytest.mark.parametrize(
    ("every", "days"), [("1 year", 365.25), ("6 months", 182.625), ("10 days", 10.0)]
)
def test_intervals_by_the_calendar(every: str, days: float) -> None:
    (due,), problems = read(f"test: {{last: 2026-04-01, every: {every}}}\n")
    assert problems == []
    assert due.every_days == pytest.approx(days)


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("test: 2027-13-01\n", "a date is wanted"),
        ("test: 1700-01-01\n", "a date is wanted"),
        ("test: {last: 2026-04-01}\n", "say 'by', 'every' or 'every_in_steam'"),
        ("test: {every: 1 hour}\n", "is out of range (1 day to 20000 days)"),
        ("test: {by: 2027-01-01, evry: 3 days}\n", "did you mean 'every'?"),
    ],
)
def test_what_is_refused(text: str, problem: str) -> None:
    _, problems = read(text)
    assert any(problem in found for found in problems), problems


@given(st.none() | DATES, st.none() | DATES, st.none() | st.floats(1.0, 20_000.0))
def test_it_is_due_by_the_earlier_of_its_date_and_its_interval(
    by: datetime.date | None, last: datetime.date | None, every: float | None
) -> None:
    due = Due("test", by, last, every).due_by()
    if by is None and (last is None or every is None):
        assert due is None
        return
    assert due is not None
    assert by is None or due <= by
    assert last is None or every is None or due <= last + datetime.timedelta(days=every)
