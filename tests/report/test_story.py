"""The story of a journal: what was left open, and journals that are not whole."""

from __future__ import annotations

from pathlib import Path

import pytest
from report_books import keep, reading

from assistant.errors import InputWrongError
from assistant.messages import (
    StepAsked,
    StepDone,
    StepSkipped,
)
from assistant.report.story import read_story


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
