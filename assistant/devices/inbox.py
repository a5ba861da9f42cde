"""One queue of events that every device posts into and one loop reads. Knows no meaning of them."""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from queue import Empty, SimpleQueue
from types import FrameType
from typing import Any

from assistant.devices.clock import Clock
from assistant.messages import Away, Event, StopAsked, Tick

GAP_S = 30.0  # a tick later than this was no busy moment: nothing ran. Judgement
MakeEvent = Callable[[float], Event]


class Inbox:
    """Events in the order they were posted, stamped with the time they were posted at.

    What is posted is a function from the time stamp to the event: an event class whose other fields
    have defaults (`inbox.post(SpeechBegan)`), a `functools.partial`, or a lambda. Stamps never
    decrease, so the loop that reads may rely on it.
    """

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        # SimpleQueue is safe to put into from a signal handler; Queue would deadlock on its lock.
        self._queue: SimpleQueue[tuple[float, MakeEvent]] = SimpleQueue()
        self._last_s = 0.0

    def now(self) -> float:
        """The time that an event posted now would be stamped with."""
        return self._clock.now()

    def post(self, make: MakeEvent) -> None:
        """Add an event, from any thread or from a signal handler."""
        self._queue.put((self.now(), make))

    def get(self, timeout_s: float | None = None) -> Event | None:
        """The next event; None when none came in `timeout_s` (0: do not wait; None: for ever)."""
        try:
            at, make = self._queue.get(block=timeout_s != 0, timeout=timeout_s or None)
        except Empty:
            return None
        self._last_s = max(self._last_s, at)
        return make(self._last_s)

    def events(self, tick_s: float = 1.0) -> Iterator[Event]:
        """Events for ever, with a Tick every `tick_s` seconds; Away for one that is far too late.

        What was posted before the gap comes before it.
        """
        due_s = self._clock.now() + tick_s
        while True:
            event = self.get(max(0.001, due_s - self._clock.now()))
            if event is not None:
                yield event
            if self._clock.now() >= due_s:
                late_s = self._clock.now() - due_s
                due_s = self._clock.now() + tick_s
                self._last_s = max(self._last_s, self._clock.now())
                yield Away(self._last_s, late_s) if late_s > GAP_S else Tick(self._last_s)


@contextmanager
def interrupts_into(inbox: Inbox, hangup_ends: bool = True) -> Iterator[None]:
    """While inside, the first Ctrl-C (or SIGTERM) posts StopAsked; a second one interrupts at once.

    hangup_ends: a closed terminal (SIGHUP) does the same; otherwise it is ignored, as the
    microphone needs no terminal. Where it was ignored before (nohup) it stays so. Only the main
    thread may enter. The previous handlers are restored on the way out.
    """
    stop_posted = False

    def on_signal(number: int, frame: FrameType | None) -> None:
        nonlocal stop_posted
        if stop_posted:
            raise KeyboardInterrupt
        stop_posted = True
        inbox.post(StopAsked)

    handlers: dict[int, Any] = dict.fromkeys((signal.SIGINT, signal.SIGTERM), on_signal)
    if signal.getsignal(signal.SIGHUP) is not signal.SIG_IGN:
        handlers[signal.SIGHUP] = on_signal if hangup_ends else signal.SIG_IGN
    previous = {number: signal.signal(number, handler) for number, handler in handlers.items()}
    try:
        yield
    finally:
        for number, handler in previous.items():
            signal.signal(number, handler)
