"""How long events take: every event of the day is counted, and the verdict follows the figures."""

from __future__ import annotations

import pytest

from assistant.lab.benches import event_latency, journal_day


@pytest.mark.real  # measures time
def test_every_event_of_the_day_is_in_the_table() -> None:
    lines = list(event_latency.bench_lines("practice", 0.1))
    counts = {row.split("|")[1].strip(): int(row.split("|")[2]) for row in lines[4:6]}
    said = [words for minute, *several in journal_day.RAISING if minute < 6 for words in several]
    assert counts["utterance"] == len(said) > 10
    assert counts["time and sound"] > 350  # a tick a second
    assert lines[-1].endswith(": met") or lines[-1].endswith("NOT MET")


@pytest.mark.real  # measures time
def test_a_slow_session_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(event_latency, "MOST_AT_99_MS", 0.0)
    assert list(event_latency.bench_lines("practice", 0.1))[-1].endswith("NOT MET")
