"""A command run in this process and judged: no traceback, no bug of ours, in time, no control."""

from __future__ import annotations

import contextlib
import io
import time
from dataclasses import dataclass
from pathlib import Path

from assistant.lab.faults.tally import demand

LONGEST_S = 10.0  # of the processor, for a small file: a busy machine counts for nothing
CONTROL = {chr(c) for c in (*range(32), *range(127, 160)) if c not in (9, 10, 13)}
PLAIN_ENDS = (0, 1, 2)  # done, not right, the file is wrong; nothing of the world failed here


@dataclass(frozen=True, slots=True)
class Ended:
    """How a command ended."""

    code: int
    told: str
    """Standard output and standard error."""


def command(*words: str | Path) -> Ended:
    """Run it and judge how it ended; NotKeptError where that is not as promised."""
    from assistant.cli import main

    texts = [str(word) for word in words]
    told = io.StringIO()
    began_s = time.process_time()
    with contextlib.redirect_stdout(told), contextlib.redirect_stderr(told):
        try:
            code = main(texts)
        except SystemExit as left:  # argparse leaves so
            code = left.code if isinstance(left.code, int) else 2
    took_s = time.process_time() - began_s
    ended = Ended(code, told.getvalue())
    last = (ended.told.strip().splitlines() or [""])[-1][:200]
    demand(code in PLAIN_ENDS, f"{texts[0]} ended with {code}: {last}")
    demand("Traceback" not in ended.told, f"{texts[0]} showed a traceback: {last}")
    demand(took_s <= LONGEST_S, f"{texts[0]} took {took_s:.1f} s")
    demand(not CONTROL & set(ended.told), f"{texts[0]} wrote control characters")
    return ended
