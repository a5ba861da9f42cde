"""How times, dates and quantities are written."""

from __future__ import annotations

import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.messages import Report
from assistant.report.terms import Terms, duration, time_of_day, time_since_start


@pytest.mark.parametrize(
    ("report", "words"),
    [
        (Report("pressure", 60, "psi"), "60 psi"),
        (Report("pressure", 2, "kgf/cm2"), "2 kgf/cm2 (28 psi)"),
        (Report("water", 0.5, "glass"), "½ of the glass"),
        (Report("water", 0.45, "glass"), "0.45 of the glass"),
        (Report("water", 0, "glass"), "bottom of the glass"),
        (Report("water", "out of sight"), "out of sight"),
        (Report("tank", 2.5, "imperial_gallon"), "2.5 imperial gallon"),
    ],
)
def test_readings_are_written_as_they_are_called(report: Report, words: str) -> None:
    assert Terms("psi").report(report) == words


@pytest.mark.parametrize(
    ("dates", "written"),
    [("iso", "2027-05-03"), ("day", "03 May 2027"), ("month", "May 03, 2027")],
)
def test_dates(dates: str, written: str) -> None:
    assert Terms(dates=dates).date(datetime.date(2027, 5, 3)) == written
    assert Terms(dates=dates).date(None) == "not known"


@given(st.floats(0.0, 1e6))
def test_the_time_since_the_start_can_be_read_back(at_s: float) -> None:
    hours, minutes, seconds = map(int, time_since_start(at_s).split(":"))
    assert hours * 3600 + minutes * 60 + seconds == round(at_s)
    assert minutes < 60 and seconds < 60


def test_the_time_of_day_over_midnight_and_without_a_clock() -> None:
    start = datetime.datetime(2027, 5, 1, 23, 59)
    assert time_of_day(start, 59.0) == "23:59:59"
    assert time_of_day(start, 60.0) == "00:00:00 (+1 day)"
    assert time_of_day(start, 60.0 + 86_400.0) == "00:00:00 (+2 days)"
    assert time_of_day(None, 60.0) == "0:01:00"


@pytest.mark.parametrize(
    ("span_s", "words"), [(89.4, "89 s"), (90.0, "2 min"), (3599.0, "1 h 00 min")]
)
def test_durations(span_s: float, words: str) -> None:
    assert duration(span_s) == words
