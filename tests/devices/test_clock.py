"""Where time comes from: the real clock, and the one that tests move."""

from __future__ import annotations

import pytest

from assistant.devices.clock import FakeClock, RealClock


@pytest.mark.real  # it is the real clock that is tested
def test_the_real_clock_starts_where_a_resumed_session_left_off() -> None:
    clock = RealClock(start_s=600.0)
    first = clock.now()
    clock.sleep(0.01)
    assert 600.0 <= first < 601.0
    assert clock.now() >= first + 0.01


def test_a_fake_clock_moves_only_when_it_is_moved_and_never_back() -> None:
    clock = FakeClock(5.0)
    assert clock.now() == clock.now() == 5.0
    clock.sleep(-1.0)
    clock.move_to(2.0)
    assert clock.now() == 5.0
    clock.move_to(7.5)
    assert clock.now() == 7.5
