"""Time and the one queue of events."""

from __future__ import annotations

import os
import signal
import threading
import time
from functools import partial

import pytest

from assistant.devices.clock import FakeClock, RealClock
from assistant.devices.inbox import Inbox, interrupts_into
from assistant.messages import DeviceLost, SpeechBegan, StopAsked, Tick


def test_real_clock_starts_where_a_resumed_session_left_off() -> None:
    clock = RealClock(start_s=600.0)
    first = clock.now()
    clock.sleep(0.01)
    assert 600.0 <= first < 601.0
    assert clock.now() >= first + 0.01


def test_events_come_out_in_order_with_the_time_they_were_posted_at() -> None:
    clock = FakeClock()
    inbox = Inbox(clock)
    clock.sleep(2.0)
    inbox.post(SpeechBegan)
    clock.sleep(1.0)
    inbox.post(partial(DeviceLost, device="microphone", reason="gone"))
    clock.sleep(5.0)
    assert inbox.get(0) == SpeechBegan(2.0)
    assert inbox.get(0) == DeviceLost(3.0, "microphone", "gone")
    assert inbox.get(0) is None


def test_stamps_never_go_back_even_when_threads_post_out_of_order() -> None:
    class Jumpy(FakeClock):
        times = iter((5.0, 3.0, 6.0))

        def now(self) -> float:
            return next(self.times)

    inbox = Inbox(Jumpy())
    for _ in range(3):
        inbox.post(SpeechBegan)
    stamps = [event.at for _ in range(3) if (event := inbox.get(0)) is not None]
    assert stamps == [5.0, 5.0, 6.0]


def test_get_waits_no_longer_than_asked() -> None:
    inbox = Inbox(RealClock())
    began = time.monotonic()
    assert inbox.get(0.05) is None
    assert 0.04 <= time.monotonic() - began < 1.0


def test_get_is_woken_by_another_thread() -> None:
    inbox = Inbox(RealClock())
    threading.Timer(0.02, inbox.post, [SpeechBegan]).start()
    assert isinstance(inbox.get(5.0), SpeechBegan)


def test_ticks_come_between_events_and_despite_them() -> None:
    clock = RealClock()
    inbox = Inbox(clock)
    events = inbox.events(tick_s=0.05)
    seen = []
    for _ in range(40):
        inbox.post(SpeechBegan)
        event = next(events)
        seen.append(type(event))
        clock.sleep(0.005)
    assert Tick in seen
    assert SpeechBegan in seen


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_first_interrupt_asks_to_stop_and_the_second_interrupts(number: int) -> None:
    before = signal.getsignal(number)
    inbox = Inbox(RealClock())
    with pytest.raises(KeyboardInterrupt), interrupts_into(inbox):
        os.kill(os.getpid(), number)
        assert isinstance(inbox.get(5.0), StopAsked)
        os.kill(os.getpid(), number)
        inbox.get(5.0)
    assert signal.getsignal(number) == before


def test_an_interrupt_while_waiting_wakes_the_loop() -> None:
    inbox = Inbox(RealClock())
    with interrupts_into(inbox):
        threading.Timer(0.05, os.kill, [os.getpid(), signal.SIGINT]).start()
        assert isinstance(inbox.get(5.0), StopAsked)
