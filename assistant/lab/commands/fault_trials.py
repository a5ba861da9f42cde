"""The options of `footplate bench faults`, and what they ask for."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from assistant.errors import InputWrongError

PARTS = (
    "files", "cuts", "kills", "service", "disk", "terminals", "ears", "voices", "devices", "card",
    "folders", "descriptors", "books", "days",
)  # fmt: skip


def add_options(parser: argparse.ArgumentParser) -> None:
    """The arguments of `bench faults`; `--part` is shared with the benches that listen."""
    parser.add_argument("--times", type=int, metavar="N", help="faults: how many of each part")
    parser.add_argument(
        "--whole", action="store_true", help="faults: as many as the whole measurement wants"
    )


def bench_faults(given: argparse.Namespace) -> Iterator[str]:
    """The lines of the bench."""
    from assistant.lab.faults import faults_bench

    if given.part is not None and given.part not in PARTS:
        raise InputWrongError(f"bench faults has no part {given.part!r}; it has {', '.join(PARTS)}")
    if given.times is not None and given.times < 1:
        raise InputWrongError("--times must be 1 or more")
    parts = (given.part,) if given.part else PARTS
    return faults_bench.bench_lines(parts, given.times, given.seed, given.whole)
