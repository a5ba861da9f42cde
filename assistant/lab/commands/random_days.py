"""The options of `footplate bench days`, and what they ask for."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence

from assistant.errors import InputWrongError

GOOD = "good"  # how the last line of good days begins


def add_options(parser: argparse.ArgumentParser) -> None:
    """The arguments of `bench days`."""
    parser.add_argument("--days", type=int, default=200, help="days: how many")
    parser.add_argument("--seed", type=int, default=1, help="days: the seed of the first")
    parser.add_argument("--only", type=int, metavar="SEED", help="days: the day of this seed alone")
    parser.add_argument(
        "--aloud", action="store_true", help="days: with --only, print it as a conversation"
    )
    parser.add_argument(
        "--jobs", type=int, default=1, help="days, hear --part people or numbers: processes"
    )
    parser.add_argument(
        "--engine", action="append", metavar="NAME",
        help="days, events: a shipped engine, more than once for several (all; practice)",
    )  # fmt: skip


def bench_days(given: argparse.Namespace) -> Iterator[str]:
    """The lines of the bench."""
    from assistant.lab.days import days_bench
    from assistant.lab.days.day_plan import ENGINES

    if given.days < 1 or given.jobs < 1:
        raise InputWrongError("--days and --jobs must be 1 or more")
    if given.aloud and given.only is None:
        raise InputWrongError("--aloud prints one day: name it with --only SEED")
    unknown = set(given.engine or ()) - set(ENGINES)
    if unknown:
        raise InputWrongError(f"no shipped engine {sorted(unknown)[0]!r}; {', '.join(ENGINES)}")
    engines = tuple(given.engine or ENGINES)
    if given.aloud:
        return days_bench.aloud_lines(given.only, engines)
    seeds = range(given.seed, given.seed + given.days)
    return days_bench.bench_lines(
        [given.only] if given.only is not None else seeds, engines, given.jobs
    )


def exit_code(lines: Sequence[str]) -> int:
    """0 for good days, 1 where something was broken or came up too seldom."""
    return 0 if lines and lines[-1].startswith(GOOD) else 1
