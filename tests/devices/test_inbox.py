"""The one queue of events: order, stamps, ticks, interrupts."""

from __future__ import annotations

import os
import signal
import threading
from functools import partial
from itertools import pairwise

import pytest

from assistant.devices.clock import FakeClock
from assistant.devices.inbox import Inbox, interrupts_into
from assistant.messages import Away, DeviceLost, SpeechBegan, StopAsked, Tick


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
    assert Inbox(FakeClock()).get(0.05) is None


def test_get_is_woken_by_another_thread() -> None:
    inbox = Inbox(FakeClock())
    threading.Thread(target=inbox.post, args=[SpeechBegan]).start()
    assert inbox.get(5.0) == SpeechBegan(0.0)


def test_ticks_come_between_events_and_despite_them() -> None:
    clock = FakeClock()
    inbox = Inbox(clock)
    events = inbox.events(tick_s=1.0)
    got = []
    for _ in range(40):
        inbox.post(SpeechBegan)
        got.append(next(events))
        clock.sleep(0.3)
    assert got == sorted(got, key=lambda event: event.at)
    ticks = [event.at for event in got if isinstance(event, Tick)]
    assert len(ticks) >= 5
    assert all(1.0 <= later - earlier < 1.7 for earlier, later in pairwise(ticks))
    assert len(got) == len(ticks) + sum(isinstance(event, SpeechBegan) for event in got)


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_first_interrupt_asks_to_stop_and_the_second_interrupts(number: int) -> None:
    before = signal.getsignal(number)
    inbox = Inbox(FakeClock())
    with pytest.raises(KeyboardInterrupt), interrupts_into(inbox):
        os.kill(os.getpid(), number)
        assert isinstance(inbox.get(5.0), StopAsked)
        os.kill(os.getpid(), number)
        inbox.get(5.0)
    assert signal.getsignal(number) == before


def test_an_interrupt_while_waiting_wakes_the_loop() -> None:
    inbox = Inbox(FakeClock())
    with interrupts_into(inbox):
        threading.Timer(0.05, os.kill, [os.getpid(), signal.SIGINT]).start()
        assert isinstance(inbox.get(5.0), StopAsked)


def test_a_gap_in_the_machines_own_time_is_an_event() -> None:
    clock = FakeClock()
    inbox = Inbox(clock)
    inbox.post(SpeechBegan)
    events = inbox.events(tick_s=1.0)
    assert next(events) == SpeechBegan(0.0)
    clock.sleep(661.0)  # the lid was shut
    assert next(events) == Away(661.0, 660.0)
    inbox.post(SpeechBegan)
    assert next(events) == SpeechBegan(661.0)
    clock.sleep(20.0)  # busy, but not away
    assert next(events) == Tick(681.0)


def test_a_closed_terminal_ends_a_typed_session_and_is_nothing_to_a_microphone() -> None:
    before = signal.getsignal(signal.SIGHUP)
    inbox = Inbox(FakeClock())
    with interrupts_into(inbox, hangup_ends=False):
        os.kill(os.getpid(), signal.SIGHUP)
        assert inbox.get(0.05) is None
    with interrupts_into(inbox):
        os.kill(os.getpid(), signal.SIGHUP)
        assert isinstance(inbox.get(5.0), StopAsked)
    assert signal.getsignal(signal.SIGHUP) == before
