"""How long a piece of work takes on a machine that has other work, too, and waiting for one."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable


def quickest_s(work: Callable[[], object], times: int = 5) -> float:
    """The least processor time of several runs [s]: what disturbs a run only makes it longer."""
    took = []
    for _ in range(times):
        began = time.process_time()
        work()
        took.append(time.process_time() - began)
    return min(took)


def until(found: Callable[[], bool]) -> None:
    """Wait until it is so, for some seconds at most."""
    for _ in range(500):
        if found():
            return
        threading.Event().wait(0.01)
    raise AssertionError("it never came")
