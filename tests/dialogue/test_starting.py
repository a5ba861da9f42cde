"""How a session begins: cautions, due dates, the first list, a warm engine."""

from __future__ import annotations

from pathlib import Path

import pytest
from session_story import Story, parts, warm_engine

from assistant.config import engine_file
from assistant.dialogue.session import Session
from assistant.journal.due_standing import due_soon
from assistant.messages import (
    DueSoon,
    Say,
    Started,
    StepAsked,
    StepDone,
)
from assistant.wording.due_words import due_words
from assistant.wording.quantities import word_count

OWNED = """\
due:
  examination: 2026-05-04
  hydraulic test: {last: 2024-03-10, every: 48 months}
  washout: {last: 2026-04-01, every_in_steam: 60 hours}
"""


def said(event: Started) -> list[str]:
    return [e.text for e in Session(parts()).handle(event) if isinstance(e, Say)]


@pytest.mark.parametrize(
    ("due", "words"),
    [
        (DueSoon("examination", -1), "examination overdue by one day."),
        (DueSoon("examination", 0), "examination due today."),
        (DueSoon("examination", 1), "examination due in one day."),
        (DueSoon("steam test", -200), "steam test overdue by about seven months."),
        (DueSoon("washout", None, 4.4), "washout due in four hours in steam."),
        (DueSoon("washout", None, 0.3), "washout due in less than an hour in steam."),
        (DueSoon("washout", 20, -3.2), "washout overdue by three hours in steam."),
        (DueSoon("plug", 3, 200.0), "plug due in three days."),
    ],
)
def test_each_is_told_by_what_runs_out_first(due: DueSoon, words: str) -> None:
    assert due_words([due]) == f"By the owner's dates: {words}"


def test_no_sentence_is_long_and_none_speaks_of_law() -> None:
    dues = [DueSoon(f"hydraulic test of part {n}", -400, None) for n in range(9)]
    text = due_words(dues)
    assert all(word_count(part) <= 14 for part in text.split(".")), text
    assert text.endswith("Five more in the report.")
    assert not {"law", "legal", "must", "certificate"} & set(text.lower().split())


def test_they_are_said_after_the_cautions_and_before_the_list() -> None:
    texts = said(Started(0.0, due=(DueSoon("examination", -3),)))
    told_at = texts.index("By the owner's dates: examination overdue by three days.")
    assert "never replace" in texts[told_at - 1] and texts[told_at + 1].startswith("Preparation")
    assert "By the owner's dates, nothing is due soon." in said(Started(0.0, due=()))
    assert not any("owner" in text for text in said(Started(0.0)))


def test_they_come_from_the_engine_file_and_the_day(tmp_path: Path) -> None:
    shipped = engine_file.find_engine("practice")
    file = tmp_path / "mine.yaml"
    file.write_text(shipped.text + OWNED, encoding="utf-8")
    engine = engine_file.load_engine(file)
    found = due_soon(engine, "2026-05-10T09:00:00+01:00", tmp_path)
    assert found == (DueSoon("examination", -6),)
    assert due_soon(engine, "2024-05-10T09:00:00+01:00", tmp_path) == ()
    assert due_soon(shipped, "2026-05-10T09:00:00+01:00", tmp_path) is None


def test_taking_over_asks_first_and_what_was_told_is_not_asked_again() -> None:
    story = Story(from_phase="tick-over")
    assert "Tick-over." not in story.text()
    story = warm_engine()
    assert "Tick-over." in story.text()
    done = {d.step for d in story.session.state.progress.done}
    assert "out of gear" in done
    assert story.session.state.progress.asked == "everyone clear"


def test_begins_with_the_cautions_and_the_first_step() -> None:
    story = Story()
    assert "never replace looking at the gauges" in story.said()[0]
    assert [asked.step for asked in story.got(StepAsked)] == ["water in the glass"]


def test_taking_over_asks_what_could_hurt_first() -> None:
    story = Story(from_phase="tick-over")
    assert story.session.state.phase.value == "tick-over"
    asked = [a.step for a in story.got(StepAsked)]
    assert asked == ["water on taking over"]
    story.say("ready")
    assert not story.got(StepDone)
