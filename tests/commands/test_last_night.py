"""The next start after a fire that was banked for the night: she is taken over warm."""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from shell import footplate

from assistant.commands.last_night import WARM_H, last_night
from assistant.commands.session_build import header_of
from assistant.config.engine_file import find_engine
from assistant.journal import reader
from assistant.journal.writer import Journal
from assistant.messages import BANKED_END, Effect, Ended, ReadingAccepted, Report, Tick

EVENING, MORNING = "2026-05-01T20:00:00+0000", "2026-05-02T06:30:00+0000"
NAME = "Practice engine"


def book(folder: Path, reason: str = BANKED_END, started: str = EVENING) -> Path:
    folder.mkdir(exist_ok=True)
    path = reader.new_path(folder, NAME, started)
    effects: list[Effect] = [
        ReadingAccepted(Report("pressure", 40.0, "psi")),
        ReadingAccepted(Report("water", 0.5, "glass")),
        ReadingAccepted(Report("on watch", "Ann")),
        Ended(reason),
    ]
    with Journal.create(path, header_of(find_engine("practice"), started, 0, "typed")) as journal:
        journal.event(Tick(1800.0))
        for effect in effects:
            journal.effect(1800.0, effect)
        journal.seal()
    return path


def test_she_was_left_so_and_that_is_said_with_its_age(tmp_path: Path) -> None:
    book(tmp_path)
    night = last_night(NAME, tmp_path, MORNING)
    assert night is not None
    assert night.hours == pytest.approx(10.0)
    assert night.words("psi") == (
        "Banked ten hours ago. Pressure forty, water half. Ann stayed. That is old: look again."
    )


@pytest.mark.parametrize("reason", ["stopped", "asked for"])
def test_any_other_end_is_none(tmp_path: Path, reason: str) -> None:
    book(tmp_path, reason)
    assert last_night(NAME, tmp_path, MORNING) is None


def test_a_later_book_that_ended_otherwise_counts(tmp_path: Path) -> None:
    book(tmp_path)
    book(tmp_path, "stopped", "2026-05-02T05:00:00+0000")
    assert last_night(NAME, tmp_path, MORNING) is None


def test_too_long_ago_she_is_cold_again(tmp_path: Path) -> None:
    book(tmp_path)
    assert WARM_H < 48.0
    assert last_night(NAME, tmp_path, "2026-05-03T20:00:00+0000") is None


def test_another_engine_no_folder_or_no_book_is_none(tmp_path: Path) -> None:
    assert last_night(NAME, tmp_path / "none", MORNING) is None
    book(tmp_path)
    assert last_night("Another", tmp_path, MORNING) is None


def test_a_book_that_was_altered_is_not_believed(tmp_path: Path) -> None:
    path = book(tmp_path)
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("banked for the night", "banked for the nicht"), encoding="utf-8")
    assert last_night(NAME, tmp_path, MORNING) is None


@pytest.mark.real
@pytest.mark.parametrize(
    ("from_phase", "words"),
    [([], "Taking over at raising steam."), (["--from", "preparation"], "--- preparation ---")],
)
def test_the_next_run_takes_her_over_warm_unless_it_is_told_otherwise(
    tmp_path: Path, from_phase: list[str], words: str
) -> None:
    book(tmp_path, started=time.strftime("%Y-%m-%dT%H:%M:%S%z", time.localtime(time.time() - 7200)))
    done = footplate(
        "run", "--typed", "--mute", "--engine", "practice", "--out", str(tmp_path), *from_phase
    )
    assert done.returncode == 0, done.stderr
    assert words in done.stdout
    assert ("Banked two hours ago." in done.stdout) is (not from_phase)
