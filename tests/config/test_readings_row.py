"""The cells of a readings file: times, units, and values that no gauge can show."""

from __future__ import annotations

import datetime

import pytest

from assistant.config.readings_row import (
    has_room,
    moment_in,
    off_gauge_problem,
    same_value,
    unit_problem,
)
from assistant.messages import OUT_OF_SIGHT, Report


def test_times_since_the_start_and_dates() -> None:
    assert moment_in("100:00:00.5") == (360_000.5, None)
    moment = datetime.datetime.fromisoformat("2026-05-02T08:15+01:00")
    assert moment_in("2026-05-02T08:15+01:00") == (0.0, moment)


@pytest.mark.parametrize("text", ["", "8:15", "00:60:00", "2026-05-02", "2026-13-02 08:15", "soon"])
def test_what_is_no_time(text: str) -> None:
    with pytest.raises(ValueError, match="is no time"):
        moment_in(text)


@pytest.mark.parametrize(
    ("unit", "problem"),
    [
        ("", "the unit is missing"),
        ("gallons", "imperial_gallon or US_gallon"),
        ("litre", "is a unit of tank"),
        ("pis", "did you mean 'psi'"),
    ],
)
def test_units_of_a_pressure(unit: str, problem: str) -> None:
    assert problem in unit_problem("pressure", unit)


@pytest.mark.parametrize(
    ("report", "possible"),
    [
        (Report("pressure", 0.0, "psi"), True),
        (Report("pressure", 601.0, "psi"), False),
        (Report("pressure", -1.0, "bar"), False),
        (Report("water", 1.0, "glass"), True),
        (Report("water", 1.01, "glass"), False),
        (Report("water", 1600.0, "mm"), False),
        (Report("tank", 1.5, "tank"), False),
        (Report("tank", 45.0, "litre"), True),
    ],
)
def test_what_a_gauge_can_show(report: Report, possible: bool) -> None:
    assert (off_gauge_problem(report) is None) == possible


def test_the_same_value_in_two_units() -> None:
    assert same_value(Report("pressure", 100.0, "kPa"), Report("pressure", 1.0, "bar"))
    assert not same_value(Report("pressure", 100.0, "kPa"), Report("pressure", 1.1, "bar"))
    assert not same_value(Report("water", 0.5, "glass"), Report("water", 500.0, "mm"))
    assert not same_value(Report("water", 0.5, "glass"), Report("water", OUT_OF_SIGHT))


def test_what_the_form_can_hold() -> None:
    assert has_room(Report("fire", "lit"))
    assert has_room(Report("water", OUT_OF_SIGHT))
    assert not has_room(Report("water", "proved"))
    assert not has_room(Report("gear", "out"))
    assert not has_room(Report("pressure", 3.0, "litre"))
