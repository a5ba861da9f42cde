"""How long after a typed line the answer sounds, with a board and without one.

For `footplate bench board`: the whole program speaks through PortAudio and ALSA into a virtual
card, and what comes out there is recorded.
"""

from __future__ import annotations

import os
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager
from pathlib import Path

import numpy as np

from assistant.errors import WorldFailedError
from assistant.lab.benches.board_run import CASES, TAKEN_OVER, Case, Live
from assistant.lab.faults import virtual_card

MOST_LATER_MS = 20.0  # nobody hears that. Judgement
COMPARED = CASES[0], CASES[-1]
QUIET_S = 1.5  # of silence before the next line: longer than between two things that are said
SPEAKS_WITHIN_S = 180.0
SPOKEN = "pressure sixty"  # one line, so that one answer is compared with itself
BETWEEN = "water half"  # not measured; without it the water would be asked for
BETWEEN_EVERY = 12


def bench_lines(runs: int, reports: int = 24) -> Iterator[str]:
    """The lines of the table; one line that says why where there is no virtual card."""
    if why := virtual_card.why_absent():
        yield f"the spoken answer was not measured: {why}"
        return
    found: list[list[float]] = [[] for _ in COMPARED]
    for _ in range(runs):
        for sounded_ms, more in zip(found, measured(COMPARED, reports), strict=True):
            sounded_ms += more
    yield (
        f"`run --typed` aloud on a virtual card, both beside each other and asked in turn, {runs} "
        f"runs, {len(found[0])} answers of each: from the typed line to the answer's first sound"
    )
    yield ""
    yield "| | sounds: median ms | 90 % ms |"
    yield "|---|---|---|"
    for case, sounded_ms in zip(COMPARED, found, strict=True):
        yield f"| {case.name} | {np.median(sounded_ms):.0f} | {np.percentile(sounded_ms, 90):.0f} |"
    yield ""
    yield verdict(*found)


def verdict(without_ms: list[float], beside_ms: list[float]) -> str:
    """Whether what is owed is met."""
    later_ms = float(np.median(beside_ms) - np.median(without_ms))
    return (
        f"owed with five pages, one stalled: the median answer sounds no more than "
        f"{MOST_LATER_MS:.0f} ms later ({later_ms:+.1f}): "
        f"{'met' if later_ms < MOST_LATER_MS else 'NOT MET'}"
    )


def measured(cases: Sequence[Case], reports: int) -> list[list[float]]:
    """Milliseconds from each typed line to the first sound of its answer, of each case.

    The cases run beside each other and are asked in turn, so that whatever else the machine does
    meets them alike.
    """
    sounded_ms: list[list[float]] = [[] for _ in cases]
    with ExitStack() as stack:
        spoken = [_begun(case, stack) for case in cases]
        for number in range(reports):
            for found, (live, recording) in zip(sounded_ms, spoken, strict=True):
                _wait_until_quiet(recording)
                began = time.monotonic()
                live.tell(SPOKEN if number % BETWEEN_EVERY else BETWEEN)
                if number % BETWEEN_EVERY < 2:
                    continue  # what is asked next comes between
                found.append(1000.0 * (_loud_since(recording, began) - began))
    return sounded_ms


def _begun(case: Case, stack: ExitStack) -> tuple[Live, virtual_card.Recording]:
    """A run that was taken over, on a card of its own, with its pages."""
    folder = Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="footplate-board-")))
    card = stack.enter_context(_card(folder))
    recording = stack.enter_context(card.record())
    live = Live(folder, case.board, virtual_card.SPEAKER)
    stack.callback(live.close)
    for words in TAKEN_OVER:
        live.tell(words)
    live.open_pages(case, stack)
    return live, recording


@contextmanager
def _card(folder: Path) -> Iterator[virtual_card.VirtualCard]:
    """A virtual card that programs started meanwhile find as theirs."""
    card, before = virtual_card.VirtualCard(folder), dict(os.environ)
    os.environ |= virtual_card.environment(folder)
    try:
        card.start()
        yield card
    finally:
        card.stop()
        os.environ.clear()
        os.environ.update(before)


def _wait_until_quiet(recording: virtual_card.Recording) -> None:
    end = time.monotonic() + SPEAKS_WITHIN_S
    while time.monotonic() - recording.last_loud_s() < QUIET_S:
        if time.monotonic() > end:
            raise WorldFailedError("it does not come to the end of what it says")
        time.sleep(0.02)


def _loud_since(recording: virtual_card.Recording, since_s: float) -> float:
    """When the first sound since then came, by the monotonic clock."""
    end = time.monotonic() + SPEAKS_WITHIN_S
    while time.monotonic() < end:
        found = recording.first_loud_s(since_s)
        if found is not None:
            return found
        time.sleep(0.005)
    raise WorldFailedError("the answer is not spoken")
