"""The story of a journal: corrections keep both, alarms and phases get their ends."""

from __future__ import annotations

from pathlib import Path

import pytest
from report_books import keep, reading

from assistant.errors import InputWrongError
from assistant.messages import (
    AlarmChanged,
    Grade,
    PhaseBegan,
    PhaseDone,
    ReadingCorrected,
    ReadingDoubted,
    ReadingRefused,
    Report,
    StepAsked,
    StepDone,
    StepSkipped,
)
from assistant.report.story import read_story


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


def test_open_is_what_was_skipped_or_never_answered(tmp_path: Path) -> None:
    story = read_story(
        keep(
            tmp_path,
            [
                (1.0, StepAsked("firing", "fire lit")),
                (2.0, StepDone("firing", "fire lit", "fire lit")),
                (3.0, StepAsked("firing", "wood bed")),
                (4.0, StepSkipped("firing", "wood bed")),
                (5.0, StepAsked("firing", "damper open")),
                (6.0, StepSkipped("firing", "damper open")),
                (7.0, StepDone("firing", "damper open", "damper open")),
                (8.0, StepAsked("firing", "air let out")),
            ],
        )
    )
    assert [(step.name, step.skipped) for step in story.open_steps] == [
        ("wood bed", True),
        ("air let out", False),
    ]


def test_a_journal_without_its_first_records_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "empty.jsonl"
    path.write_bytes(b"")
    with pytest.raises(InputWrongError, match="is empty, no journal"):
        read_story(path)
    path.write_bytes(b'{"n":0,"at":0.0,"kind":"jour')
    with pytest.raises(InputWrongError, match="first records"):
        read_story(path)


def test_an_altered_journal_is_told_up_to_the_bad_place(tmp_path: Path) -> None:
    path = keep(tmp_path, [(10.0 * i, reading("pressure", 10.0 * i, "psi")) for i in range(5)])
    raw = path.read_bytes()
    path.write_bytes(raw.replace(b"30.0,", b"31.0,", 1))
    story = read_story(path)
    assert story.journal.state == "altered"
    assert len(story.calls) == 3
