"""How long a piece of work takes on a machine that has other work, too."""

from __future__ import annotations

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
