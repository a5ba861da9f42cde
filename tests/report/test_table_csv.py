"""A story as one flat table."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest
from report_books import keep, reading

from assistant.messages import (
    AlarmChanged,
    ForecastMade,
    Grade,
    NoteTaken,
    PhaseBegan,
    PhaseDone,
    ReadingCorrected,
    ReadingRefused,
    Report,
)
from assistant.report.story import read_story
from assistant.report.table_csv import table_csv


def lines(folder: Path, *said: tuple[float, object]) -> list[dict[str, str]]:
    story = read_story(keep(folder, said))  # type: ignore[arg-type]
    return list(csv.DictReader(io.StringIO(table_csv(story))))


def test_everything_is_in_the_order_of_time(tmp_path: Path) -> None:
    rows = lines(
        tmp_path,
        (0.0, PhaseBegan("firing")),
        (60.0, reading("pressure", 20.0, "psi")),
        (70.0, ForecastMade(60.0, 8.0, 10.0, 14.0, "why")),
        (80.0, AlarmChanged("water low", Grade.DANGER, "raised", "0.2 of the glass")),
        (90.0, ReadingRefused(None, "not understood")),
        (95.0, AlarmChanged("water low", Grade.DANGER, "cleared", "")),
        (99.0, PhaseDone("firing")),
    )
    assert [(row["kind"], row["state"]) for row in rows] == [
        ("phase", "began"), ("reading", "stands"), ("forecast", "told"), ("alarm", "raised"),
        ("refused", "not taken"), ("alarm", "cleared"), ("phase", "done"),
    ]  # fmt: skip
    assert rows[2]["value"] == "8.0..10.0..14.0"
    assert rows[1]["clock"] == "08:01:00"


def test_a_correction_is_two_lines_and_says_when(tmp_path: Path) -> None:
    wrong, right = Report("pressure", 95.0, "psi"), Report("pressure", 65.0, "psi")
    old, new = lines(
        tmp_path, (10.0, reading("pressure", 95.0, "psi")), (25.0, ReadingCorrected(wrong, right))
    )
    assert (old["value"], old["state"], old["remark"]) == ("95", "corrected", "changed 0:00:25")
    assert (new["value"], new["state"], new["remark"]) == ("65", "stands", "said 0:00:25")
    assert old["since_start"] == new["since_start"] == "0:00:10"


@pytest.mark.parametrize("heard", ["=1+1", "+2+3", "-2+3", "@SUM(A1)", "\tx"])
def test_a_cell_never_begins_like_a_formula(tmp_path: Path, heard: str) -> None:
    (row,) = lines(tmp_path, (5.0, NoteTaken(heard)))
    assert row["remark"] == f"'{heard}"
