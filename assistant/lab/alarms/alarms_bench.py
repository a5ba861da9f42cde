"""`footplate bench alarms`: each practice fault with each operator; what is found, and how soon."""

from __future__ import annotations

import multiprocessing
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from assistant.commands.session_build import header_of, session_config_of
from assistant.config.engine_file import find_engine
from assistant.dialogue.session import Session
from assistant.lab.alarms import alarm_tables
from assistant.lab.alarms.alarm_day import HEALTHY, play
from assistant.lab.alarms.fault_names import TROUBLES
from assistant.lab.alarms.verdict import Verdict, judge
from assistant.simulator.manners import MANNERS, RIGHTLY

ENGINES = ("practice", "fullsize")
ENGINE = "practice"
NEEDS_OPTION = {"injector warm": "injector"}  # faults of a fitting that not every engine has


@dataclass(frozen=True, slots=True)
class Wanted:
    """One practice to be played."""

    fault: str
    operator: str
    seed: int

    @property
    def engine(self) -> str:
        """The practice engine, or a shipped one that has the fitting that fails."""
        return "fullsize" if self.fault in NEEDS_OPTION else ENGINE


def practices(
    faults: Sequence[str], operators: Sequence[str], seeds: int, healthy: int
) -> list[Wanted]:
    """Every fault with every operator, on so many seeds.

    healthy: how many days without a fault of the operator who answers rightly.
    """
    return [
        Wanted(fault, operator, seed)
        for fault in faults
        for operator in operators
        for seed in range(1, 1 + (healthy if (fault, operator) == (HEALTHY, RIGHTLY) else seeds))
    ]


def judged(wanted: Wanted) -> Verdict:
    """Play it and judge it."""
    found = find_engine(wanted.engine)
    parts = session_config_of(
        header_of(found, "2026-05-01T09:00:00+00:00", wanted.seed, "rehearsal")
    )
    day = play(
        Session(parts), parts.engine, parts.lists, wanted.fault, wanted.operator, wanted.seed
    )
    return judge(day, wanted.engine)


def run(wanted: Sequence[Wanted], jobs: int = 1) -> list[Verdict]:
    """All of them, in so many processes, in their order."""
    if jobs <= 1:
        return [judged(each) for each in wanted]
    with multiprocessing.get_context("spawn").Pool(jobs) as pool:
        return list(pool.imap(judged, wanted, chunksize=1))


def bench_lines(
    faults: Sequence[str] = (),
    operators: Sequence[str] = (),
    seeds: int = 20,
    jobs: int = 1,
    healthy: int = 40,
) -> Iterator[str]:
    """The tables. No fault named: all of them and healthy days; no operator named: all."""
    chosen = tuple(faults) or (HEALTHY, *TROUBLES)
    who = tuple(operators) or tuple(MANNERS)
    verdicts = run(practices(chosen, who, seeds, healthy), jobs)
    return alarm_tables.all_lines(verdicts)
