"""`footplate bench`: slow measurements, printed as tables; never part of the tests."""

from __future__ import annotations

import argparse
import os
from itertools import chain
from pathlib import Path

from assistant.commands.output import Out
from assistant.lab.commands import bench_sound


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
        from assistant.lab.benches import forecast_errors

        seeds = range(forecast_errors.JUDGED.start, forecast_errors.JUDGED.start + given.engines)
        out.line(forecast_errors.bench(seeds, runs=given.runs).table())
    elif given.what in bench_sound.BENCH_PARTS:
        bench_sound.run(given, out)
    elif given.what == "alarms":
        _alarms(out, given.runs)
    else:
        from assistant.lab.benches import journal_damage, journal_day

        for line in chain(journal_day.bench_lines(), journal_damage.bench_lines()):
            out.line(line)
    return 0


def _alarms(out: Out, runs: int) -> None:
    """How often the watch speaks in so many steam-ups of each shipped engine."""
    from assistant.commands.session_build import header_of, parts_of
    from assistant.config import engine_file, paths
    from assistant.dialogue.session import Session
    from assistant.lab.benches import alarm_rates

    def one(name: str, seed: int) -> alarm_rates.AlarmCounts:
        found = engine_file.find_engine(name)
        parts = parts_of(header_of(found, "2026-05-01T09:00:00+00:00", seed, "rehearsal"))
        return alarm_rates.practice_alarms(Session(parts), parts.engine, parts.lists, seed)

    engines = paths.shipped(paths.engines_folder())
    wanted = [(name, seed) for seed in range(1, runs + 1) for name in engines]
    for line in alarm_rates.rates_table(wanted, one):
        out.line(line)
