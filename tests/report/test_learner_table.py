"""The learner on the page: counts of what was told, no word on what anybody can do."""

from __future__ import annotations

from pathlib import Path

from report_books import ENGINE, keep, many

from assistant.journal.header import Header, KeptText
from assistant.journal.writer import Journal
from assistant.messages import Learner, LessonGiven, Started
from assistant.report.learner_table import NO_JUDGEMENT, learner
from assistant.report.page import TablePart, TextPart
from assistant.report.story import read_story
from assistant.report.terms import Terms
from assistant.report.watch_log import LogOptions, watch_log


def book(folder: Path) -> Path:
    path = folder / "day.jsonl"
    kept = (KeptText("engine", "test.yaml", ENGINE),)
    header = Header("Test engine", "2027-05-03T08:00:00+01:00", 1, 101_325.0, kept, "typed")
    with Journal.create(path, header) as journal:
        journal.event(Started(0.0, learner=Learner("Ann")))
        journal.effect(0.0, LessonGiven("preparation/water in the glass", "reason"))
        journal.effect(9.0, LessonGiven("preparation/out of gear", "act"))
        journal.effect(10.0, LessonGiven("preparation/out of gear", "act"))
        journal.effect(20.0, LessonGiven("preparation/oiled round", "anticipated"))
    return path


def test_the_counts_are_on_the_page(tmp_path: Path) -> None:
    story = read_story(book(tmp_path))
    table, text = learner(story)
    assert isinstance(table, TablePart) and text == TextPart(NO_JUDGEMENT)
    cells = [row.cells for row in table.rows]
    assert cells[0][:2] == ("learner", "Ann")
    assert [row[1] for row in cells[1:]] == ["1", "2", "1", "0"]
    assert cells[2][2] == "preparation/out of gear"
    titles = [section.heading for section in watch_log(story, LogOptions(Terms())).sections]
    assert "Learner" in titles


def test_where_nobody_learned_there_is_no_section(tmp_path: Path) -> None:
    story = read_story(keep(tmp_path, many(4)))
    assert learner(story) == ()
    titles = [section.heading for section in watch_log(story, LogOptions(Terms())).sections]
    assert "Learner" not in titles
