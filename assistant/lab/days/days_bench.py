"""`footplate bench days`: random days watched from outside; counts and violations."""

from __future__ import annotations

import multiprocessing
import sys
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from assistant.lab.days import day_counts
from assistant.lab.days.day_counts import DayCounts
from assistant.lab.days.day_monitor import DayMonitor, Violation
from assistant.lab.days.day_plan import ENGINES, DayPlan, plan_of
from assistant.lab.days.random_day import config_of, play
from assistant.messages import Effect, Event

TOLD_DAYS = 100  # so often it is told on stderr how far it has come
STORIES = 1  # conversations printed of each broken promise


@dataclass
class DayResult:
    """What one day, or many together, gave."""

    days: int = 0
    seconds: float = 0.0
    """Simulated [s]."""
    counts: Counter[str] = field(default_factory=Counter)  # of `day_counts` names
    violations: list[Violation] = field(default_factory=list)
    """The first of each key in each day."""
    faults: list[str] = field(default_factory=list)

    def add(self, other: DayResult) -> None:
        """Put another result to this one."""
        self.days += other.days
        self.seconds += other.seconds
        self.counts.update(other.counts)
        self.violations += other.violations
        self.faults += other.faults


def watched_day(plan: DayPlan) -> tuple[DayResult, DayMonitor]:
    """Play one day under the monitor."""
    config = config_of(plan.engine, plan.dial, plan.limit_rise)
    monitor, counts = DayMonitor(config.engine, plan.dial, plan.seed), DayCounts(config)

    def see(event: Event, effects: Sequence[Effect]) -> None:
        monitor.see(event, effects)
        counts.see(event, effects)

    play(plan, see)
    faults = [f"seed {plan.seed}: {message}" for message in counts.faults]
    violations = list(monitor.violations.values())
    return DayResult(1, monitor.log.at, counts.counts, violations, faults), monitor


def _one(job: tuple[int, tuple[str, ...]]) -> DayResult:
    seed, engines = job
    return watched_day(plan_of(seed, engines))[0]


def run_days(seeds: Sequence[int], engines: tuple[str, ...] = ENGINES, jobs: int = 1) -> DayResult:
    """Play the days of these seeds, in so many processes; what is broken is told on stderr too."""
    total = DayResult()
    for result in _each_day([(seed, engines) for seed in seeds], jobs):
        total.add(result)
        for line in (*(v.story() for v in result.violations), *result.faults):
            print(line, file=sys.stderr, flush=True)
        if total.days % TOLD_DAYS == 0:
            print(f"{total.days} days, {len(total.violations)} broken", file=sys.stderr, flush=True)
    return total


def _each_day(wanted: Sequence[tuple[int, tuple[str, ...]]], jobs: int) -> Iterator[DayResult]:
    if jobs <= 1:
        yield from map(_one, wanted)
        return
    with multiprocessing.get_context("spawn").Pool(jobs) as pool:
        yield from pool.imap(_one, wanted, chunksize=4)


def bench_lines(
    seeds: Sequence[int], engines: tuple[str, ...] = ENGINES, jobs: int = 1
) -> Iterator[str]:
    """The counts, then what was broken; the last line begins with "good" or "NOT GOOD"."""
    began = time.perf_counter()
    total = run_days(seeds, engines, jobs)
    took = time.perf_counter() - began
    names = day_counts.wanted_names(config_of(ENGINES[0], "psi", False))
    yield (
        f"{total.days} days, {total.seconds / 3600:.0f} hours of steam, "
        f"{total.counts['heard: words']} things said "
        f"({total.counts['heard: not a sentence']} not sentences); "
        f"{total.days / took:.2f} days a second in {jobs} process(es)"
    )
    yield from day_counts.table_lines(total.counts, names)
    yield ""
    yield from violation_lines(total.violations)
    yield from (f"INTERNAL ERROR, {fault}" for fault in total.faults)
    seldom = day_counts.too_seldom(total.counts, names) if total.days >= day_counts.FULL else []
    if seldom:
        yield f"fewer than {day_counts.WANTED} times: {', '.join(seldom)}"
    good = not (total.violations or total.faults or seldom)
    yield "good" if good else f"NOT GOOD: {len(total.violations)} violations"


def violation_lines(violations: Sequence[Violation]) -> Iterator[str]:
    """How many days broke each promise, with the first conversations."""
    by_key: dict[str, list[Violation]] = {}
    for violation in violations:
        by_key.setdefault(violation.key, []).append(violation)
    for key, found in sorted(by_key.items()):
        seeds = ", ".join(str(v.seed) for v in found[:12])
        yield f"{key}: in {len(found)} days; seeds {seeds}"
    for _, found in sorted(by_key.items()):
        for violation in found[:STORIES]:
            yield ""
            yield violation.story()


def aloud_lines(seed: int, engines: tuple[str, ...] = ENGINES) -> Iterator[str]:
    """One day as a conversation, each broken promise where it happened."""
    plan = plan_of(seed, engines)
    _, monitor = watched_day(plan)
    yield plan.line()
    yield from monitor.log.lines
    yield ""
    yield from (violation.story() for violation in monitor.violations.values())
    broken = ", ".join(monitor.violations)
    yield f"NOT GOOD: {broken}" if broken else "good"
