"""The options of `footplate bench forecast`, and what they ask for."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from assistant.errors import InputWrongError

PARTS = ("worlds", "records", "steamups")


def add_options(parser: argparse.ArgumentParser) -> None:
    """The arguments of `bench forecast`; `--part` is shared with the benches that listen."""
    parser.add_argument("--engines", type=int, default=30, help="forecast: invented engines")
    parser.add_argument(
        "--steamups", type=int, default=120, metavar="N",
        help="forecast --part worlds: steam-ups of each world, an engine each (120: more than 600 "
        "questions)",
    )  # fmt: skip


def bench_forecast(given: argparse.Namespace) -> Iterator[str]:
    """The lines of the bench: the practice boiler's, or those of a part."""
    from assistant.lab.benches import forecast_errors, forecast_worlds

    if given.part is None:
        first = forecast_errors.HELD_OUT_ENGINES.start
        engines = range(first, first + given.engines)
        return iter(forecast_errors.bench_lines(engines, given.runs))
    if given.part not in PARTS:
        raise InputWrongError(
            f"bench forecast has no part {given.part!r}; it has {', '.join(PARTS)}"
        )
    if given.steamups < 1:
        raise InputWrongError("--steamups must be 1 or more")
    return forecast_worlds.bench_lines(given.part, given.steamups)
