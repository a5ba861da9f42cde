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
from assistant.lab.alarms.kept_verdicts import KeptVerdicts
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


def run(
    wanted: Sequence[Wanted], jobs: int = 1, kept: KeptVerdicts | None = None, play: bool = True
) -> list[Verdict]:
    """All of them, in so many processes, in their order; what was kept is not played again.

    play: whether what was not kept is played; else it is left out.
    """
    found = {
        each: kept.get(each.fault, each.operator, each.seed) if kept else None for each in wanted
    }
    missing = [each for each, verdict in found.items() if verdict is None and play]
    for each, verdict in zip(missing, _played(missing, jobs), strict=True):
        found[each] = verdict
        if kept is not None:
            kept.add(verdict)
    return [verdict for verdict in found.values() if verdict is not None]


def _played(wanted: Sequence[Wanted], jobs: int) -> Iterator[Verdict]:
    if jobs <= 1:
        yield from map(judged, wanted)
        return
    with multiprocessing.get_context("spawn").Pool(jobs) as pool:
        yield from pool.imap(judged, wanted, chunksize=1)


def bench_lines(
    faults: Sequence[str] = (),
    operators: Sequence[str] = (),
    seeds: int = 20,
    jobs: int = 1,
    healthy: int = 40,
    kept: KeptVerdicts | None = None,
    play: bool = True,
) -> Iterator[str]:
    """The tables. No fault named: all of them and healthy days; no operator named: all.

    kept, play: as in `run`.
    """
    chosen = tuple(faults) or (HEALTHY, *TROUBLES)
    who = tuple(operators) or tuple(MANNERS)
    verdicts = run(practices(chosen, who, seeds, healthy), jobs, kept, play)
    return alarm_tables.all_lines(verdicts)
