"""The options of `footplate bench alarms`, and what they ask for."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path

from assistant.errors import InputWrongError

HEALTHY_WORD = "healthy"  # how a day without a fault is asked for


def add_options(parser: argparse.ArgumentParser) -> None:
    """The arguments of `bench alarms`; `--jobs` is shared with the random days."""
    parser.add_argument("--seeds", type=int, default=20, help="alarms: days of each practice")
    parser.add_argument(
        "--healthy", type=int, default=40,
        help="alarms: days without a fault, of the operator who answers rightly",
    )  # fmt: skip
    parser.add_argument(
        "--fault", action="append", metavar="NAME",
        help="alarms: a practice fault, or healthy; more than once for several (all, and healthy)",
    )  # fmt: skip
    parser.add_argument(
        "--kept", type=Path, metavar="FILE",
        help="alarms: keep each verdict here as it comes, and go on from there",
    )  # fmt: skip
    parser.add_argument(
        "--only-kept", action="store_true", help="alarms: with --kept, tables of what is there"
    )
    parser.add_argument(
        "--operator", action="append", metavar="NAME",
        help="alarms: a practice operator, more than once for several (all)",
    )  # fmt: skip


def bench_alarms(given: argparse.Namespace) -> Iterator[str]:
    """The lines of the bench."""
    from assistant.lab import results_file
    from assistant.lab.alarms import alarms_bench
    from assistant.lab.alarms.alarm_day import HEALTHY
    from assistant.lab.alarms.fault_names import TROUBLES
    from assistant.lab.alarms.kept_verdicts import KeptVerdicts
    from assistant.simulator.manners import MANNERS

    if min(given.seeds, given.jobs, given.healthy) < 1:
        raise InputWrongError("--seeds, --jobs and --healthy must be 1 or more")
    faults, operators = given.fault or [], given.operator or []
    for name in faults:
        if name not in (HEALTHY_WORD, *TROUBLES):
            known = ", ".join((HEALTHY_WORD, *TROUBLES))
            raise InputWrongError(f"no practice fault called {name!r}; there are: {known}")
    for name in operators:
        if name not in MANNERS:
            known = ", ".join(MANNERS)
            raise InputWrongError(f"no practice operator called {name!r}; there are: {known}")
    if given.only_kept and given.kept is None:
        raise InputWrongError("--only-kept wants --kept FILE")
    kept = None if given.kept is None else KeptVerdicts(given.kept, results_file.commit())
    chosen = [HEALTHY if name == HEALTHY_WORD else name for name in faults]
    return alarms_bench.bench_lines(
        chosen, operators, given.seeds, given.jobs, given.healthy, kept, not given.only_kept
    )
