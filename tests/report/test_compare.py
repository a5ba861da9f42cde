"""Several steam-ups of one engine as one page and one table."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from report_books import keep, many, reading

from assistant.errors import InputWrongError
from assistant.report.compare import comparison, comparison_csv, one_engine
from assistant.report.page import TablePart, TextPart
from assistant.report.story import Story, read_story
from assistant.report.terms import Terms


def stories(folder: Path) -> list[Story]:
    """The second is slower, and its lighting was not called."""
    slow = [row for row in many(122, 90.0) if row[0] > 0.0]
    return [
        read_story(keep(folder, slow, "2027-05-02T08:00:00+01:00")),
        read_story(keep(folder, many(122), "2027-05-01T08:00:00+01:00")),
    ]


def test_the_page_is_in_the_order_of_days_and_says_what_was_not_called(tmp_path: Path) -> None:
    page = comparison(stories(tmp_path), Terms())
    assert page.under == "2 journals, from 2027-05-01 to 2027-05-02"
    parts = {section.heading: section.parts for section in page.sections}
    times = parts["Times from lighting the fire"][0]
    assert isinstance(times, TablePart)
    assert [row.cells[0] for row in times.rows] == ["1: 2027-05-01 08:00", "2: 2027-05-02 08:00"]
    note = parts["Course"][1]
    assert isinstance(note, TextPart)
    assert "not called" in note.text and "2: 2027-05-02 08:00" in note.text
    assert "1: 2027-05-01" not in note.text


def test_a_pressure_never_reached_is_an_empty_cell(tmp_path: Path) -> None:
    low = [(0.0, reading("fire", "lit")), (600.0, reading("pressure", 30.0, "psi"))]
    both = [read_story(keep(tmp_path, low, f"2027-05-0{day}T08:00:00+01:00")) for day in (1, 2)]
    first, _ = csv.DictReader(io.StringIO(comparison_csv(both, Terms())))
    assert first["minutes_to_20_psi"] == "10.0"
    assert first["minutes_to_60_psi"] == first["minutes_to_working"] == ""
    assert first["fed_litres"] == ""


def test_one_journal_is_not_compared(tmp_path: Path) -> None:
    with pytest.raises(InputWrongError, match="two journals"):
        one_engine(stories(tmp_path)[:1])
