"""A call that never returns is given up; one that returns is as if called directly."""

from __future__ import annotations

import threading
from queue import SimpleQueue

import pytest

from assistant.devices.bounded_call import NeverReturnedError, call_within


def refuse() -> int:
    raise ValueError("no")


def test_what_returns_or_raises_in_time_is_handed_on_and_never_late() -> None:
    late: list[object] = []
    assert call_within(5.0, "counting", lambda: 7, late.append) == 7
    with pytest.raises(ValueError, match="no"):
        call_within(5.0, "refusing", refuse, late.append)
    assert late == []


def test_what_does_not_return_is_given_up_and_its_result_comes_late() -> None:
    go = threading.Event()
    late: SimpleQueue[int | None] = SimpleQueue()
    with pytest.raises(NeverReturnedError, match=r"waiting has not returned within 0\.01 s"):
        call_within(0.01, "waiting", lambda: 7 if go.wait(5.0) else 0, late.put)
    assert late.empty()
    go.set()
    assert late.get(timeout=5.0) == 7


def test_what_raises_after_it_was_given_up_has_no_result() -> None:
    go = threading.Event()
    late: SimpleQueue[int | None] = SimpleQueue()
    with pytest.raises(NeverReturnedError):
        call_within(0.01, "waiting", lambda: refuse() if go.wait(5.0) else 0, late.put)
    go.set()
    assert late.get(timeout=5.0) is None
