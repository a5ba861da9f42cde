"""Readings out of a journal: what stands at its end, at the times it was called."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.config.engine_file import find_engine
from assistant.config.readings_file import readings_from_text, write_readings
from assistant.errors import InputWrongError
from assistant.journal import reader
from assistant.journal.earlier_runs import earlier_journals, past_readings
from assistant.journal.header import Header
from assistant.journal.writer import Journal
from assistant.messages import (
    Effect,
    ReadingAccepted,
    ReadingCorrected,
    ReadingRefused,
    Report,
    Tick,
)

PRACTICE = find_engine("practice")
HEADER = Header("Practice engine", "2026-05-02T08:15:00+01:00", 1, 101_325.0, ())


def psi(value: float) -> Report:
    return Report("pressure", value, "psi")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / f"day{reader.SUFFIX}"
    exchanges: list[tuple[float, Effect]] = [
        (10.0, ReadingAccepted(Report("fire", "lit"))),
        (20.0, ReadingAccepted(psi(75.0))),
        (30.0, ReadingAccepted(Report("water", 0.5, "glass"))),
        (35.0, ReadingCorrected(psi(75.0), psi(65.0))),
        (40.0, ReadingRefused(psi(500.0), "off the gauge")),
        (50.0, ReadingAccepted(psi(70.0))),
        (55.0, ReadingCorrected(psi(70.0), None)),
        (60.0, ReadingAccepted(Report("gear", "out"))),
    ]
    with Journal.create(path, HEADER) as journal:
        for at_s, effect in exchanges:
            journal.event(Tick(at_s))
            journal.effect(at_s, effect)
    return path


IN_FORCE = (
    (10.0, Report("fire", "lit")),
    (20.0, psi(65.0)),
    (30.0, Report("water", 0.5, "glass")),
    (60.0, Report("gear", "out")),
)


def test_corrected_readings_stand_at_the_time_they_were_called(path: Path) -> None:
    readings = past_readings(path, PRACTICE.engine)
    assert readings.rows == IN_FORCE
    assert readings.engine_name == "Practice engine"
    assert readings.started is not None
    assert readings.started.isoformat() == "2026-05-02T08:15:00+01:00"


def test_what_is_exported_can_be_read_as_a_readings_file(path: Path) -> None:
    readings = past_readings(path)
    text = write_readings(readings.rows, readings.engine_name)
    assert readings_from_text(text, "r.csv", PRACTICE.engine).rows == IN_FORCE[:3]


def test_a_journal_of_another_engine_is_refused_by_name(path: Path) -> None:
    with pytest.raises(InputWrongError, match="of another engine: 'Practice engine', not 'Copper"):
        past_readings(path, find_engine("copper").engine)


def test_a_cut_journal_gives_what_it_still_holds(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-400])
    assert past_readings(path).rows[:2] == ((10.0, Report("fire", "lit")), (20.0, psi(65.0)))


def test_an_altered_journal_is_not_learned_from(path: Path) -> None:
    path.write_bytes(path.read_bytes().replace(b'"value":0.5', b'"value":0.9'))
    with pytest.raises(InputWrongError, match="was altered and is not learned from: record"):
        past_readings(path)
    assert earlier_journals("Practice engine", path.parent) == ()


def test_journals_that_cannot_teach_are_left_out(path: Path) -> None:
    newer = Header("Practice engine", HEADER.started, 1, 101_325.0, (), format=99)
    Journal.create(path.with_name(f"newer{reader.SUFFIX}"), newer).close()
    path.with_name(f"nonsense{reader.SUFFIX}").write_text("{}")
    assert earlier_journals("Practice engine", path.parent) == (path,)
    assert earlier_journals("Copper engine", path.parent) == ()


def test_the_later_of_two_readings_at_one_time_stands(tmp_path: Path) -> None:
    path = tmp_path / f"day{reader.SUFFIX}"
    with Journal.create(path, HEADER) as journal:
        journal.event(Tick(1.0))
        journal.effect(1.0, ReadingAccepted(psi(75.0)))
        journal.effect(1.0, ReadingAccepted(psi(65.0)))
    assert past_readings(path).rows == ((1.0, psi(65.0)),)


def test_what_the_file_has_no_room_for_is_not_exported() -> None:
    rows = ((1.0, Report("fire", "run down")), (2.0, Report("water", "proved")), (3.0, psi(5.0)))
    text = write_readings(rows)
    assert readings_from_text(text, "r.csv", PRACTICE.engine).rows == rows[2:]


def test_a_journal_without_its_first_records(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:40])
    with pytest.raises(InputWrongError, match="does not hold its first records"):
        past_readings(path)
