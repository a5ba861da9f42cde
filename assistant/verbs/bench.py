"""`footplate bench`: slow measurements, printed as tables; never part of the tests."""

from __future__ import annotations

import argparse
import os
from itertools import chain
from pathlib import Path

from assistant.verbs import own_noise
from assistant.verbs.out import Out


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
    parser.add_argument(
        "--part", choices=("sentences", "others", "teens", "noise", "wake"),
        default="sentences",
        help="talk: which of its tables",
    )  # fmt: skip
    parser.add_argument(
        "--kind", action="append", metavar="KIND",
        help=f"talk: beside which noise, more than once for several: {own_noise.HELP} (default: "
        "mix and each of yours; all of them with --part noise)",
    )  # fmt: skip
    parser.add_argument(
        "--phrase", metavar="WORDS", help="talk --part wake: another wake phrase than ours"
    )
    parser.add_argument("--hours", type=float, default=0.5, help="talk --part noise: of noise")
    parser.add_argument(
        "--share", type=int, default=2, help="talk: one in so many of the trials (1: all of them)"
    )


def run(given: argparse.Namespace, out: Out) -> int:
    """Measure and print; returns 0."""
    if given.what == "forecast":
        from assistant.rehearsal import bench_forecast

        seeds = range(bench_forecast.JUDGED.start, bench_forecast.JUDGED.start + given.engines)
        out.line(bench_forecast.bench(seeds, runs=given.runs).table())
    elif given.what == "talk":
        _talk(out, given)
    elif given.what == "alarms":
        _alarms(out, given.runs)
    elif given.what == "journal":
        from assistant.files import bench_journal
        from assistant.verbs import bench_day

        for line in chain(bench_day.measure(), bench_journal.measure()):
            out.line(line)
    else:
        from assistant.hearing import bench_hear
        from assistant.rehearsal.noise import engine_noise

        for line in bench_hear.measure(given.recordings, engine_noise):
            out.line(line)
    return 0


def _talk(out: Out, given: argparse.Namespace) -> None:
    """Sound in, decision out."""
    from assistant.hearing.choose import choose
    from assistant.hearing.hearer import Hearer
    from assistant.rehearsal import bench_talk, bench_wake
    from assistant.talk.wake import Wake
    from assistant.verbs import kit

    chosen = choose()
    out.line(chosen.line)
    hearer = Hearer(chosen.ear)
    made = bench_talk.NOISE_KINDS if given.part == "noise" else ("mix",)
    noise, kinds = own_noise.noises(given.kind or [*made, *own_noise.recorded()])
    if given.part == "wake":
        wake = Wake(given.phrase) if given.phrase else Wake()
        lines = bench_wake.measure(
            Hearer(chosen.ear, wake=wake),
            kit.utterances,
            given.recordings,
            given.share,
            kinds,
            noise,
        )
    elif given.part == "noise":
        lines = bench_talk.heard_in_noise(kit.utterances, given.hours, hearer, kinds, noise)
    else:
        lines = bench_talk.measure(
            hearer, kit.utterances, given.recordings, given.part, given.share, kinds, noise
        )
    for line in lines:
        out.line(line)


def _alarms(out: Out, runs: int) -> None:
    """How often the watch speaks in so many steam-ups of each shipped engine."""
    from assistant.files import engine_file, places
    from assistant.rehearsal import bench_alarms
    from assistant.session import Session
    from assistant.verbs.parts import header_of, parts_of

    def one(name: str, seed: int) -> bench_alarms.Heard:
        found = engine_file.find_engine(name)
        parts = parts_of(header_of(found, "2026-05-01T09:00:00+00:00", seed, "rehearsal"))
        return bench_alarms.steam_up(Session(parts), parts.engine, parts.lists, seed)

    engines = places.shipped(places.engines_folder())
    wanted = [(name, seed) for seed in range(1, runs + 1) for name in engines]
    for line in bench_alarms.table(wanted, one):
        out.line(line)
