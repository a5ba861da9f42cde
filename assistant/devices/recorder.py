"""Records from a microphone for a given time, for its test and for the engine's noise."""

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
    """So many seconds of the source at its own rate; WorldFailedError when no sound comes.

    progress: called after each block with the seconds recorded so far.
    """
    queue: SimpleQueue[bytes] = SimpleQueue()
    rate_hz = source.open(queue.put)
    parts: list[bytes] = []
    wanted, recorded = int(seconds * rate_hz), 0
    try:
        while recorded < wanted:
            parts.append(queue.get(timeout=FIRST_BLOCK_S))
            recorded += len(parts[-1]) // 4
            progress(recorded / rate_hz)
    except Empty:
        raise WorldFailedError("no sound comes from the microphone") from None
    finally:
        source.close()
    samples = np.frombuffer(b"".join(parts), np.float32)[:wanted]
    return Clip(samples, rate_hz)
