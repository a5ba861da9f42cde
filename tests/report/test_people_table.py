"""Who had the watch and who looked at the boiler, as it stands on the page."""

from __future__ import annotations

from pathlib import Path

import pytest
from report_books import keep, reading

from assistant.messages import Effect, NoteTaken
from assistant.report.page import TablePart
from assistant.report.people_table import BY_HAND, people
from assistant.report.story import read_story


def rows(folder: Path, *effects: tuple[float, Effect]) -> list[tuple[str, ...]]:
    part = people(read_story(keep(folder, effects)))
    return [tuple(map(str, row.cells[1:])) for row in part.rows] if hasattr(part, "rows") else []


def boiler(at_s: float, value: str) -> tuple[float, Effect]:
    return at_s, reading("boiler", value)


def watch(at_s: float, value: str) -> tuple[float, Effect]:
    return at_s, reading("on watch", value)


def test_names_stand_with_what_they_did(tmp_path: Path) -> None:
    found = rows(tmp_path, watch(60.0, "Ann"), boiler(90.0, "looked at by Bob"))
    assert found == [("has the watch", "Ann"), ("boiler looked at", "Bob")]


def test_a_name_that_answers_the_question_is_one_row_with_it(tmp_path: Path) -> None:
    found = rows(tmp_path, boiler(60.0, "looked at"), boiler(70.0, "looked at by Ann"))
    assert found == [("boiler looked at", "Ann")]
    found = rows(tmp_path, watch(60.0, "not named"), watch(70.0, "Ann"))
    assert found == [("has the watch", "Ann")]


@pytest.mark.parametrize("value", ["looked at", "looked at, name not given"])
def test_without_a_name_it_says_so_and_leaves_room_for_a_pen(tmp_path: Path, value: str) -> None:
    assert rows(tmp_path, boiler(60.0, value)) == [
        ("boiler looked at", f"name not given; {BY_HAND}")
    ]


def test_a_name_in_a_note_is_written_by_hand(tmp_path: Path) -> None:
    note = (70.0, NoteTaken("Mr Jones", "note-001.flac"))
    ((what, who),) = rows(tmp_path, boiler(60.0, "looked at"), note)
    assert what == "boiler looked at"
    assert who.startswith("in the note of 08:01:10") and who.endswith(BY_HAND)


def test_what_was_taken_back_or_is_no_name_is_not_there(tmp_path: Path) -> None:
    part = people(read_story(keep(tmp_path, [boiler(60.0, "tight")])))
    assert not isinstance(part, TablePart)
