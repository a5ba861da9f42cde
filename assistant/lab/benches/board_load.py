"""What the board costs a live run: processor, memory, and time from a typed line to its answer.

For `footplate bench board`; the whole program is run, so never part of the tests.
"""

from __future__ import annotations

import tempfile
import time
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

from assistant.errors import WorldFailedError
from assistant.lab.benches import board_aloud
from assistant.lab.benches.board_run import CASES, TAKEN_OVER, Case, Live, unsent_bytes

MOST_CORE, MOST_MB, MOST_LATER_MS = 0.02, 60.0, 5.0
SETTLES_S = 3.0
PAUSE_S = 0.4  # between an answer and the next line; a page is told five times a second at most
SPOKEN = ("pressure sixty one", "water half", "pressure sixty two", "water five eighths")


@dataclass(slots=True)
class Figures:
    """What was measured of one case."""

    core: list[float] = field(default_factory=list)
    """Share of a core at rest, of each run."""
    resident_mb: list[float] = field(default_factory=list)
    """Memory after the reports, of each run."""
    answered_ms: list[float] = field(default_factory=list)
    """From a typed line to the answer that is spoken."""
    shown_ms: list[float] = field(default_factory=list)
    """From a typed line to the picture that shows it, on each page that reads."""
    unsent_kb: list[float] = field(default_factory=list)
    """What waited for the stalled page at the end of each run."""


def bench_lines(runs: int, rest_s: float = 20.0, reports: int = 60) -> Iterator[str]:
    """The lines of the table. rest_s: how long each run is left alone [s].

    Raises WorldFailedError where the program does not start or does not answer.
    """
    found = {case.name: Figures() for case in CASES}
    for _ in range(runs):
        for case in CASES:
            _measure(case, found[case.name], rest_s, reports)
    yield f"`run --typed --mute`, {runs} runs of each: {rest_s:g} s at rest, {reports} reports"
    yield ""
    yield (
        "| | % of a core | MB | answer: median ms | 99 % ms | page: median ms | 99 % ms "
        "| unsent kB |"
    )
    yield "|---|---|---|---|---|---|---|---|"
    for case in CASES:
        yield _row(case.name, found[case.name])
    yield ""
    yield _verdict(found[CASES[0].name], found[CASES[-1].name], found[CASES[-2].name])
    yield ""
    yield from board_aloud.bench_lines(runs)


def _row(name: str, figures: Figures) -> str:
    def spread(values: list[float]) -> str:
        if not values:
            return "- | -"
        return f"{np.median(values):.1f} | {np.percentile(values, 99):.0f}"

    unsent = f"{max(figures.unsent_kb):.0f}" if figures.unsent_kb else "-"
    return (
        f"| {name} | {100.0 * max(figures.core):.2f} | {np.mean(figures.resident_mb):.1f} | "
        f"{spread(figures.answered_ms)} | {spread(figures.shown_ms)} | {unsent} |"
    )


def _verdict(without: Figures, *beside: Figures) -> str:
    core = max(max(figures.core) for figures in beside)
    more_mb = max(float(np.mean(f.resident_mb)) for f in beside) - float(
        np.mean(without.resident_mb)
    )
    later_ms = max(float(np.median(f.answered_ms)) for f in beside) - float(
        np.median(without.answered_ms)
    )
    good = core < MOST_CORE and more_mb < MOST_MB and later_ms < MOST_LATER_MS
    return (
        f"owed with five pages: under {100.0 * MOST_CORE:.0f} % of a core ({100.0 * core:.2f}), "
        f"under {MOST_MB:.0f} MB more ({more_mb:.1f}), the median answer no more than "
        f"{MOST_LATER_MS:.0f} ms later ({later_ms:+.1f}): {'met' if good else 'NOT MET'}"
    )


def _measure(case: Case, figures: Figures, rest_s: float, reports: int) -> None:
    with ExitStack() as stack:
        folder = stack.enter_context(tempfile.TemporaryDirectory())
        live = Live(Path(folder), case.board)
        stack.callback(live.close)
        for words in TAKEN_OVER:
            live.tell(words)
        pages, stalled = live.open_pages(case, stack)
        time.sleep(SETTLES_S)
        before, began = live.core_s(), time.perf_counter()
        time.sleep(rest_s)
        figures.core.append((live.core_s() - before) / (time.perf_counter() - began))
        for number in range(reports):
            words = SPOKEN[number % len(SPOKEN)]
            sent = time.perf_counter()
            figures.answered_ms.append(live.answered_ms(words))
            time.sleep(PAUSE_S)
            for page in pages:
                shown = page.shown_at(words, sent)
                if shown is None:
                    raise WorldFailedError(f"a page does not show {words!r}")
                figures.shown_ms.append(1000.0 * (shown - sent))
        figures.resident_mb.append(live.resident_mb())
        figures.unsent_kb += [unsent_bytes(page) / 1000.0 for page in stalled]
