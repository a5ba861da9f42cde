"""When practice faults begin."""

from __future__ import annotations

from assistant.simulator.fault_clock import FaultClock
from assistant.simulator.practice_faults import onset_s


def test_some_are_there_from_cold_some_with_pressure_some_later() -> None:
    clock = FaultClock(frozenset({"feed stuck", "low water", "tube weeping"}), 3, 100.0)
    assert set(clock) == {"feed stuck"}
    clock.advance(50.0, 99.0)
    assert set(clock) == {"feed stuck"}
    assert clock.trouble_at is None
    assert clock.advance(60.0, 100.0) == {"low water"}
    assert clock.trouble_at == 60.0 + onset_s(3)
    assert clock.advance(61.0 + onset_s(3), 20.0) == {"tube weeping"}
    assert clock.begun["low water"] == 60.0


def test_a_fault_begins_once() -> None:
    clock = FaultClock(frozenset({"low water"}), 3, 100.0)
    clock.advance(60.0, 100.0)
    assert clock.advance(62.0, 100.0) == frozenset()
    assert clock.begun["low water"] == 60.0


def test_a_healthy_day_has_its_time_of_trouble() -> None:
    clock = FaultClock(frozenset(), 3, 100.0)
    clock.advance(60.0, 100.0)
    assert clock.trouble_at == 60.0 + onset_s(3)
    assert len(clock) == 0
