"""`footplate bench`: slow measurements, printed as tables; never part of the tests."""

from __future__ import annotations

import argparse
import os
from itertools import chain
from pathlib import Path

from assistant.commands.output import Out
from assistant.verbs import bench_sound


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `bench`."""
    parser.add_argument("what", choices=("forecast", "hear", "talk", "journal", "alarms"))
    parser.add_argument("--engines", type=int, default=30, help="forecast: invented engines")
    parser.add_argument("--runs", type=int, default=2, help="forecast, alarms: steam-ups of each")
    parser.add_argument(
        "--recordings", type=Path, metavar="FOLDER",
        default=Path(os.environ.get("FOOTPLATE_SPEECH", "../shared/speech")),
        help="hear, talk: folder with commands/, digits/ and kitchen.flac",
    )  # fmt: skip
    bench_sound.add(parser)


def run(given: argparse.Namespace, out: Out) -> int:
    """Measure and print; returns 0."""
    if given.what == "forecast":
        from assistant.rehearsal import bench_forecast

        seeds = range(bench_forecast.JUDGED.start, bench_forecast.JUDGED.start + given.engines)
        out.line(bench_forecast.bench(seeds, runs=given.runs).table())
    elif given.what in bench_sound.PARTS:
        bench_sound.run(given, out)
    elif given.what == "alarms":
        _alarms(out, given.runs)
    else:
        from assistant.files import bench_journal
        from assistant.verbs import bench_day

        for line in chain(bench_day.measure(), bench_journal.measure()):
            out.line(line)
    return 0


def _alarms(out: Out, runs: int) -> None:
    """How often the watch speaks in so many steam-ups of each shipped engine."""
    from assistant.commands.session_build import header_of, parts_of
    from assistant.config import engine_file, paths
    from assistant.dialogue.session import Session
    from assistant.rehearsal import bench_alarms

    def one(name: str, seed: int) -> bench_alarms.Heard:
        found = engine_file.find_engine(name)
        parts = parts_of(header_of(found, "2026-05-01T09:00:00+00:00", seed, "rehearsal"))
        return bench_alarms.steam_up(Session(parts), parts.engine, parts.lists, seed)

    engines = paths.shipped(paths.engines_folder())
    wanted = [(name, seed) for seed in range(1, runs + 1) for name in engines]
    for line in bench_alarms.table(wanted, one):
        out.line(line)
