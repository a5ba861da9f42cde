"""The list of journals: what each line says, and how one is found."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest

from assistant.journal import reader
from assistant.journal.header import Header
from assistant.journal.index import index_of
from assistant.journal.writer import Journal
from assistant.messages import AlarmChanged, Ended, Grade, ReadingAccepted, Report, Tick


def keep(folder: Path, engine: str, day: str, bars: list[float], seal: bool = False) -> None:
    started = f"{day}T08:00:00+01:00"
    header = Header(engine, started, 1, 101_325.0, ())
    with Journal.create(reader.new_path(folder, engine, started), header) as journal:
        for i, bar in enumerate(bars):
            journal.event(Tick(60.0 * i))
            journal.effect(60.0 * i, ReadingAccepted(Report("pressure", bar, "bar")))
        raised = AlarmChanged("low water", Grade.DANGER, "raised")
        journal.effect(90.0, raised)
        journal.effect(95.0, AlarmChanged("low water", Grade.DANGER, "cleared"))
        if seal:
            journal.effect(100.0, Ended("done"))
            journal.seal()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    keep(tmp_path, "Practice engine", "2026-05-02", [1.0, 8.5, 3.0], seal=True)
    keep(tmp_path, "Practice engine", "2026-05-09", [])
    keep(tmp_path, "Copper engine", "2026-05-05", [2.0])
    return tmp_path


def test_each_journal_in_a_line_the_oldest_first(folder: Path) -> None:
    found, troubles = index_of(folder)
    assert troubles == ()
    assert [entry.started[:10] for entry in found] == ["2026-05-02", "2026-05-05", "2026-05-09"]
    first, _, last = found
    assert first.peak == Report("pressure", 8.5, "bar")
    assert (first.length_s, first.alarms, first.finished) == (120.0, 1, True)
    assert first.sealed is not None
    assert [entry.in_steam_s for entry in found] == [120.0, 0.0, 0.0]
    assert (last.peak, last.sealed, last.finished) == (None, None, False)


def test_found_by_engine_and_by_date(folder: Path) -> None:
    practice, _ = index_of(folder, "practice")
    assert [entry.engine_name for entry in practice] == ["Practice engine"] * 2
    may = datetime.date(2026, 5, 5)
    assert len(index_of(folder, since=may)[0]) == 2
    assert len(index_of(folder, until=may)[0]) == 2
    assert [e.engine_name for e in index_of(folder, since=may, until=may)[0]] == ["Copper engine"]


def test_what_cannot_be_read_is_told_and_stops_nothing(folder: Path) -> None:
    (folder / "torn.jsonl").write_bytes(b'{"n":0')
    newer = Header("Practice engine", "2030-01-01T08:00:00Z", 1, 101_325.0, (), format=9)
    Journal.create(folder / "newer.jsonl", newer).close()
    found, troubles = index_of(folder)
    assert len(found) == 3
    assert any("newer program" in trouble for trouble in troubles)
    assert any("torn.jsonl: does not hold its first records" in trouble for trouble in troubles)


def test_an_empty_or_absent_folder(tmp_path: Path) -> None:
    assert index_of(tmp_path) == ((), ())
    assert index_of(tmp_path / "none") == ((), ())
