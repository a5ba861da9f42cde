"""A call that may never return, made in a thread of its own and waited for only so long."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import Generic, TypeVar, cast

from assistant.errors import WorldFailedError

T = TypeVar("T")


class NeverReturnedError(WorldFailedError):
    """A call was given up; it goes on in its own thread, and may return later or never."""


def call_within(
    seconds: float, what: str, work: Callable[[], T], late: Callable[[T | None], None]
) -> T:
    """What `work` returns or raises, or NeverReturnedError after so many seconds.

    what: the first words of that error. late: called in the thread of the call, if that ends after
    it was given up, with its result or, when it raised, None.
    """
    call = _Call(work, late)
    threading.Thread(target=call.run, name=what, daemon=True).start()
    if call.give_up_after(seconds):
        raise NeverReturnedError(f"{what} has not returned within {seconds:g} s")
    return call.outcome()


class _Call(Generic[T]):
    def __init__(self, work: Callable[[], T], late: Callable[[T | None], None]) -> None:
        self._work = work
        self._late = late
        self._deciding = threading.Condition()
        self._done = self._given_up = False
        self._result: T | None = None
        self._error: BaseException | None = None

    def run(self) -> None:
        """In the thread of its own."""
        try:
            self._result = self._work()
        except BaseException as error:  # raised again where the call is waited for
            self._error = error
        with self._deciding:
            self._done = True
            self._deciding.notify_all()
            late = self._given_up
        if late:
            self._late(self._result)

    def give_up_after(self, seconds: float) -> bool:
        """Wait; whether it was given up. Decided once: its result is taken here or is late."""
        with self._deciding:
            self._given_up = not self._deciding.wait_for(lambda: self._done, seconds)
            return self._given_up

    def outcome(self) -> T:
        """Its result; what it raised is raised."""
        error, self._error = self._error, None
        if error is not None:
            try:
                raise error
            finally:
                del error  # its traceback holds this frame
        return cast(T, self._result)
