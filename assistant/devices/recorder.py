"""Records a piece of sound from a microphone, for the microphone test and for noise to keep."""

from __future__ import annotations

from collections.abc import Callable
from queue import Empty, SimpleQueue

import numpy as np

from assistant.devices.microphone import Source
from assistant.devices.sound import Clip
from assistant.errors import WorldFailedError

FIRST_BLOCK_S = 4.0


def record(
    source: Source, seconds: float, progress: Callable[[float], None] = lambda done_s: None
) -> Clip:
    """So many seconds of the source at the rate it gives; WorldFailedError when it gives nothing.

    progress: told after each block how many seconds there are.
    """
    taken: SimpleQueue[bytes] = SimpleQueue()
    rate_hz = source.open(taken.put)
    parts: list[bytes] = []
    wanted, there = int(seconds * rate_hz), 0
    try:
        while there < wanted:
            parts.append(taken.get(timeout=FIRST_BLOCK_S))
            there += len(parts[-1]) // 4
            progress(there / rate_hz)
    except Empty:
        raise WorldFailedError("no sound comes from the microphone") from None
    finally:
        source.close()
    samples = np.frombuffer(b"".join(parts), np.float32)[:wanted]
    return Clip(samples, rate_hz)
