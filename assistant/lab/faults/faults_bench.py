"""`footplate bench faults`: every part tried so many times; a row each, then what failed."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from assistant.lab.faults import (
    broken_books,
    device_faults,
    device_hours,
    killed_service,
    live_faults,
    spoiled_files,
)
from assistant.lab.faults.tally import MOST_SHOWN, Tally

KILLS_A_RUN = 50  # writers killed for each live run that is killed


@dataclass(frozen=True, slots=True)
class Part:
    """One kind of fault."""

    what: str
    few: int
    """How many where no number is given; none: only where it is asked for."""
    many: int
    """How many the whole measurement wants."""
    try_it: Callable[[int, int], Tally]
    """(times, seed) -> what was found."""


def _kills(times: int, seed: int) -> Tally:
    tally = broken_books.killed_writers(times, seed)
    tally.add(live_faults.killed_runs(max(1, times // KILLS_A_RUN), seed))
    return tally


def _days(times: int, seed: int) -> Tally:
    from assistant.lab.days.days_bench import run_days

    total = run_days(range(seed, seed + times))
    broken = [f"seed {v.seed}: {v.key}" for v in total.violations]
    return Tally(total.days, [*broken, *total.faults])


PARTS = {
    "files": Part("spoiled files", 60, 10_000, spoiled_files.spoiled_files),
    "cuts": Part("cut books", 100, 5_000, broken_books.cut_books),
    "kills": Part("kills", 50, 1_000, _kills),
    "service": Part("kills of a service, and its returns", 3, 200, killed_service.killed_services),
    "disk": Part("disks full", 4, 100, live_faults.full_disks),
    "terminals": Part("terminals stalled or gone", 5, 50, live_faults.lost_terminals),
    "ears": Part("ears that hang or fail", 4, 20, device_faults.broken_ears),
    "voices": Part(
        "synthesisers that hang, die or answer half", 7, 20, device_faults.broken_voices
    ),
    "devices": Part("hours by a false clock, devices failing", 1, 8, device_hours.by_false_clock),
    "card": Part("hours on a virtual card, devices failing", 0, 1, device_hours.on_a_card),
    "folders": Part("temporary folders gone", 2, 20, live_faults.lost_folders),
    "descriptors": Part("descriptors used up", 4, 20, live_faults.no_descriptors),
    "books": Part("books of others", 20, 500, spoiled_files.foreign_books),
    "days": Part("random days", 4, 2_000, _days),
}
GOOD = "good"  # how the last line begins when nothing failed


def bench_lines(
    names: Sequence[str] = (), times: int | None = None, seed: int = 1, whole: bool = False
) -> Iterator[str]:
    """A row for each part, as it is done; then the failures; the last line is the verdict."""
    failures: dict[str, list[str]] = {}
    yield f"{'fault':<44} {'tried':>7} {'failed':>7} {'seconds':>8}"
    for name in names or PARTS:
        part = PARTS[name]
        if not (count := times or (part.many if whole else part.few)):
            continue
        began_s = time.monotonic()
        tally = part.try_it(count, seed)
        took_s = time.monotonic() - began_s
        failures[name] = tally.failures
        yield f"{part.what:<44} {tally.tried:>7} {len(tally.failures):>7} {took_s:>8.0f}"
        yield from (f"  {note}" for note in tally.notes)
    for name, found in failures.items():
        yield from (f"{name}: {line}" for line in found[:MOST_SHOWN])
        if len(found) > MOST_SHOWN:
            yield f"{name}: and {len(found) - MOST_SHOWN} more"
    failed = sum(map(len, failures.values()))
    yield GOOD if not failed else f"NOT GOOD: {failed} failed"
