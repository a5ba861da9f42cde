"""What the bench of long days and many journals makes, and that it holds to what is owed."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from assistant.commands.replay import replay
from assistant.lab.benches import long_and_many
from assistant.lab.benches.long_and_many import HIGH_PSI, LOW_PSI, OWED_S, day_lines, write_day


def test_the_pressure_wanders_in_its_range_and_each_is_followed_by_a_question() -> None:
    words = [said for _, said in day_lines(24.0)]
    called = [int(said.split()[1]) for said in words if said.startswith("pressure ")]
    assert len(called) > 280
    assert LOW_PSI <= min(called) < max(called) <= HIGH_PSI
    assert all(0 < abs(b - a) <= 2 for a, b in pairwise(called))
    assert sum(said in long_and_many.ASKED for said in words) == len(called)


def test_its_journal_replays(tmp_path: Path) -> None:
    path = tmp_path / "day.jsonl"
    events = write_day(path, 0.25)
    replayed = replay(path)
    assert (replayed.events, replayed.differing) == (events, ())


def test_what_takes_too_long_is_not_met(monkeypatch: pytest.MonkeyPatch) -> None:
    took_s = OWED_S["journals"]
    monkeypatch.setattr(long_and_many, "_run", lambda *words: (9.0, took_s))
    assert long_and_many._timed("x", "journals", "journals").endswith("under 3 s: NOT MET")
    took_s -= 0.1
    assert long_and_many._timed("x", "journals", "journals").endswith("under 3 s: met")
