"""Messages into a story: corrections keep both readings, alarms and phases get their ends."""

from __future__ import annotations

from pathlib import Path

from report_books import keep, reading

from assistant.messages import (
    AlarmChanged,
    Ended,
    Grade,
    PhaseBegan,
    PhaseDone,
    ReadingCorrected,
    ReadingDoubted,
    ReadingRefused,
    Report,
    Resumed,
    StepAsked,
    StepDone,
    StepOvertaken,
)
from assistant.report.log_tables import open_items_table
from assistant.report.page import TablePart
from assistant.report.story import read_story
from assistant.report.story_builder import StoryBuilder
from assistant.report.table_csv import table_csv


def psi(value: float) -> Report:
    return Report("pressure", value, "psi")


def test_a_correction_keeps_both_and_the_new_one_stands_at_the_old_time(tmp_path: Path) -> None:
    story = read_story(
        keep(
            tmp_path,
            [
                (60.0, reading("pressure", 65.0, "psi")),
                (90.0, reading("water", 0.5, "glass")),
                (100.0, ReadingCorrected(psi(65.0), psi(75.0))),
                (110.0, ReadingCorrected(Report("water", 0.5, "glass"), None)),
            ],
        )
    )
    old, new, water = story.calls
    assert (old.report, old.state, old.changed_at_s) == (psi(65.0), "corrected", 100.0)
    assert (new.report, new.state, new.at_s, new.instead) == (psi(75.0), "stands", 60.0, psi(65.0))
    assert (water.state, water.changed_at_s) == ("taken back", 110.0)
    assert story.standing == (new,)


def test_an_overtaken_step_stays_open_in_the_report_and_says_why(tmp_path: Path) -> None:
    story = read_story(
        keep(
            tmp_path,
            [
                (10.0, StepAsked("preparation", "gauge at zero")),
                (20.0, StepDone("preparation", "out of gear", "gear out")),
                (30.0, StepOvertaken("preparation", "gauge at zero", "steam")),
            ],
        )
    )
    (left,) = story.open_steps
    assert (left.name, left.answer, left.overtaken) == ("gauge at zero", None, "steam")
    table = open_items_table(story)
    assert isinstance(table, TablePart)
    assert any("overtaken (steam)" in str(row) for row in table.rows)
    assert "overtaken (steam)" in table_csv(story)


def test_a_doubted_reading_tells_that_it_was_asked(tmp_path: Path) -> None:
    story = read_story(
        keep(
            tmp_path,
            [
                (10.0, ReadingDoubted(psi(95.0), "sixty to ninety five in one minute")),
                (15.0, reading("pressure", 95.0, "psi")),
                (20.0, reading("pressure", 96.0, "psi")),
                (30.0, ReadingRefused(None, "not understood")),
            ],
        )
    )
    assert [call.asked for call in story.calls] == ["sixty to ninety five in one minute", ""]
    assert [refusal.report for refusal in story.refusals] == [None]


def test_alarms_and_phases_have_a_beginning_and_an_end(tmp_path: Path) -> None:
    def alarm(state: str, grade: Grade = Grade.WARNING) -> AlarmChanged:
        return AlarmChanged("water low", grade, state, f"as {state}")  # type: ignore[arg-type]

    story = read_story(
        keep(
            tmp_path,
            [
                (0.0, PhaseBegan("firing")),
                (10.0, alarm("raised")),
                (12.0, alarm("raised", Grade.DANGER)),
                (20.0, alarm("acknowledged")),
                (30.0, alarm("cleared")),
                (40.0, alarm("raised")),
                (50.0, PhaseDone("firing")),
                (50.0, PhaseBegan("raising steam")),
            ],
        )
    )
    first, second = story.alarms
    assert (first.grade, first.raised_s, first.acknowledged_s, first.cleared_s) == (
        Grade.DANGER, 10.0, 20.0, 30.0,
    )  # fmt: skip
    assert first.reason == "as raised"
    assert (second.grade, second.raised_s, second.cleared_s) == (Grade.WARNING, 40.0, None)
    assert [(p.name, p.to_s) for p in story.phases] == [("firing", 50.0), ("raising steam", None)]


def test_a_correction_of_a_reading_that_never_was_adds_the_new_one_now() -> None:
    builder = StoryBuilder()
    builder.effect(50.0, ReadingCorrected(psi(65.0), psi(75.0)))
    (call,) = builder.calls
    assert (call.at_s, call.report, call.state) == (50.0, psi(75.0), "stands")


def test_a_session_that_goes_on_has_not_ended() -> None:
    builder = StoryBuilder()
    builder.effect(50.0, Ended("said so"))
    assert builder.ended == "said so"
    builder.event(Resumed(90.0, 40.0))
    assert (builder.ended, builder.breaks) == (None, [(90.0, 40.0)])


def test_ends_without_a_beginning_are_passed_over() -> None:
    builder = StoryBuilder()
    builder.effect(1.0, PhaseDone("firing"))
    builder.effect(2.0, AlarmChanged("water low", Grade.DANGER, "cleared", ""))
    assert (builder.phases, builder.alarms) == ([], [])
