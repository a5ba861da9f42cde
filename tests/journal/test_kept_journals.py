"""Every journal of tests/data: whole, readable, and what a replay makes of it.

`session_*.jsonl` are real sessions, silent practices (`footplate rehearse --silent`), each named
after the version that wrote it. Those of this version must replay to the same effects, word for
word; those of older versions to the same readings and notes. `format_1.jsonl` and `format_2.jsonl`
hold every message and were never sessions, so they are read, not replayed.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from assistant import __version__
from assistant.commands.replay import replay
from assistant.commands.session_build import session_config_of
from assistant.dialogue.session import Session
from assistant.journal import reader
from assistant.journal.header import FORMAT
from assistant.journal.writer import Journal
from assistant.messages import (
    Decided,
    Effect,
    ForecastMade,
    NoteTaken,
    ReadingAccepted,
    ReadingCorrected,
    ReadingRefused,
    Report,
    Say,
    StepAsked,
)

FOLDER = Path(__file__).parent.parent / "data" / "journals"
ALL = sorted(FOLDER.glob("*.jsonl"))
SESSIONS = sorted(FOLDER.glob("session_*.jsonl"))


def test_there_is_a_session_of_this_version_and_one_of_an_older() -> None:
    wrote = {reader.require_header(reader.read(path)).program for path in SESSIONS}
    assert __version__ in wrote
    assert wrote - {__version__}


@pytest.mark.parametrize("path", ALL, ids=lambda path: path.stem)
def test_each_is_whole_and_every_record_is_read(path: Path) -> None:
    kept = reader.read(path)
    assert (kept.state, kept.lost, kept.unusable) == ("whole", 0, "")
    assert len(list(kept.exchanges())) == len(kept.events()) > 5


@pytest.mark.parametrize("path", SESSIONS, ids=lambda path: path.stem)
def test_a_session_replays_to_the_record(path: Path) -> None:
    header = reader.require_header(reader.read(path))
    assert path.name.startswith(f"session_{header.program}_")
    replayed = replay(path)
    assert replayed.events > 50
    assert replayed.differing == ()
    if header.program == __version__:
        assert replayed.otherwise == ()
        assert header.format == FORMAT


Change = Callable[[Effect], Effect | None]


def retold(path: Path, change: Change, file_format: int = FORMAT) -> Path:
    """The last kept session as a program would have written it that answered otherwise."""
    kept = reader.read(SESSIONS[-1])
    header = reader.require_header(kept)
    session = Session(session_config_of(header))
    with Journal.create(path, replace(header, format=file_format)) as journal:
        for event in kept.events():
            journal.event(event)
            for effect in map(change, session.handle(event)):
                if effect is not None:
                    journal.effect(event.at, effect)
        journal.sync()
    return path


def other_words(effect: Effect) -> Effect:
    return Say("Old words.", effect.urgency) if isinstance(effect, Say) else effect


def no_steps(effect: Effect) -> Effect | None:
    return None if isinstance(effect, StepAsked) else effect


@pytest.mark.parametrize("change", [other_words, no_steps])
def test_words_and_steps_may_differ_in_a_journal_of_another_version_only(
    tmp_path: Path, change: Change
) -> None:
    path = retold(tmp_path / "other.jsonl", change)
    same_version = replay(path, version=__version__)
    assert same_version.differing
    assert same_version.otherwise == ()
    other_version = replay(path, version="99.0")
    assert other_version.differing == ()
    assert len(other_version.otherwise) == len(same_version.differing)


def test_a_journal_of_format_1_knows_no_rules_and_is_otherwise_the_same(tmp_path: Path) -> None:
    def undecided(effect: Effect) -> Effect | None:
        return None if isinstance(effect, Decided) else effect

    replayed = replay(retold(tmp_path / "first.jsonl", undecided, file_format=1))
    assert (replayed.differing, replayed.otherwise) == ((), ())
    present = replay(retold(tmp_path / "second.jsonl", undecided))
    assert len(present.differing) > 50


@pytest.mark.parametrize("kind", [ReadingAccepted, ReadingRefused, ReadingCorrected, NoteTaken])
def test_a_reading_or_note_that_differs_is_a_difference_in_any_journal(
    tmp_path: Path, kind: type[Effect]
) -> None:
    psi = Report("pressure", 1.0, "psi")
    added = {
        ReadingAccepted: ReadingAccepted(psi),
        ReadingRefused: ReadingRefused(psi, "no"),
        ReadingCorrected: ReadingCorrected(psi, None),
        NoteTaken: NoteTaken("invented"),
    }[kind]  # type: ignore[index]
    times: list[Effect] = []

    def one_more(effect: Effect) -> Effect:
        times.append(effect)
        return added if len(times) == 40 else effect

    path = retold(tmp_path / "other.jsonl", one_more, file_format=1)
    assert len(replay(path, version="99.0").differing) == 1


@pytest.mark.parametrize(("changed_by", "differ"), [(3e-16, False), (1e-10, False), (1e-3, True)])
def test_the_last_digits_of_a_figure_are_no_difference(
    tmp_path: Path, changed_by: float, differ: bool
) -> None:
    """Seen: two processors of one make round the same exponential otherwise."""
    kept = reader.read(SESSIONS[-1])
    path = tmp_path / "other.jsonl"
    forecasts = 0
    with Journal.create(path, reader.require_header(kept)) as journal:
        for turn in kept.exchanges():
            journal.event(turn.event)
            for effect in turn.effects:
                if isinstance(effect, ForecastMade) and effect.low is not None:
                    forecasts += 1
                    effect = replace(effect, low=effect.low * (1 + changed_by))
                journal.effect(turn.event.at, effect)
        journal.sync()
    assert forecasts > 5
    assert (len(replay(path).differing) > 5) == differ


def test_passing_messages_over_leaves_every_other_record_and_every_proof() -> None:
    kept, fewer = reader.read(SESSIONS[-1]), reader.read(SESSIONS[-1], without=("Tick", "Say"))
    said = [record.payload.get(record.kind) for record in kept.records]
    wanted = tuple(
        record
        for record, message in zip(kept.records, said, strict=True)
        if not (isinstance(message, dict) and message.get("is") in ("Tick", "Say"))
        or record is kept.records[-1]  # by which it is judged whether the book is whole
    )
    assert fewer.records == wanted
    assert (fewer.count, fewer.digest) == (kept.count, kept.digest)
    assert fewer.header == kept.header
