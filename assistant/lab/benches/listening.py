"""The two benches that listen: `footplate bench hear` and `footplate bench talk`."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from itertools import chain
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

from assistant.commands import options, record_noise
from assistant.errors import InputWrongError
from assistant.recogniser.snr import Noise

if TYPE_CHECKING:
    from assistant.lab.benches.ears import Ear
    from assistant.recogniser.pipeline import RecognitionPipeline
    from assistant.understanding.context import Objection

ANYTIME = "anytime"
ANYTIME_TABLES = ("named", "nearest", "others", "yes", "change")
CLEAN = "clean"  # as a level: without noise
BENCH_PARTS = {
    "hear": ("people", "numbers", "kinds", "belief", "latency", "memory"),
    "talk": ("sentences", "others", "teens", "noise", "wake", ANYTIME),
}
_SHARES = {"hear": 40, "talk": 2}  # of the trials, where no --share is given
_UTTERANCES = {"latency": 60, "memory": 600}
NOISE_HOURS = 0.5


def add_options(
    parser: argparse.ArgumentParser, others: Mapping[str, tuple[str, ...]] = MappingProxyType({})
) -> None:
    """The arguments that are these two's. others: benches that have parts, too."""
    parts_of = {**BENCH_PARTS, **others}
    parser.add_argument(
        "--part", choices=tuple(chain(*parts_of.values())), metavar="PART",
        help="; ".join(f"{what}: one of {', '.join(parts)}" for what, parts in parts_of.items())
        + " (default: all of hear's and of faults', the sentences of talk)",
    )  # fmt: skip
    parser.add_argument(
        "--kind", action="append", metavar="KIND",
        help=f"hear --part kinds, talk: beside which noise, more than once for several: "
        f"{record_noise.HELP} (default: hear and talk --part noise all of them, other parts mix "
        "and each of yours)",
    )  # fmt: skip
    parser.add_argument(
        "--level", action="append", type=_level, metavar="DB",
        help="hear --part kinds or belief, talk --part anytime: speech over noise, more than once "
        "for several (20, 10, 5; belief: 20, 10; anytime: 10, and `clean` is a quiet room)",
    )  # fmt: skip
    parser.add_argument(
        "--only-table", action="append", choices=ANYTIME_TABLES, metavar="TABLE",
        help="talk --part anytime, which is how what was not asked about is heard: one table, more "
        f"than once for several: {', '.join(ANYTIME_TABLES)} (all)",
    )  # fmt: skip
    parser.add_argument(
        "--left-out", type=Path, metavar="FOLDER",
        help="hear --part belief: files without_PERSON.npz as `footplate train` leaves them, so "
        "that each person is heard by an ear that never learnt from him",
    )  # fmt: skip
    parser.add_argument(
        "--ear", action="append", metavar="NAME",
        help="hear: which ear, more than once for several: plain, tuned, vosk, whole (all)",
    )  # fmt: skip
    parser.add_argument(
        "--beside", type=Path, metavar="FILE", action="append",
        help="hear --part people or numbers: another adapter to hear with, besides the plain and "
        "the tuned ear; more than once for several",
    )  # fmt: skip
    parser.add_argument(
        "--share", type=int, metavar="N",
        help="one in so many of the trials, 1 for all (hear --part numbers: 1, of the source "
        "with most takes; --part kinds: 40, talk: 2)",
    )  # fmt: skip
    parser.add_argument(
        "--utterances", type=int, metavar="N",
        help="hear: how many for --part latency (60) and memory (600)",
    )  # fmt: skip
    parser.add_argument(
        "--phrase", metavar="WORDS", help="talk --part wake: another wake phrase than ours"
    )
    parser.add_argument(
        "--hours", type=float,
        help="talk --part noise: of noise (0.5); hear --part memory: the utterances spread over so "
        "long by the clock (one after the other); events: of the day (24)",
    )  # fmt: skip


def _level(text: str) -> float | str:
    """A ratio [dB], or no noise, for argparse."""
    return CLEAN if text == CLEAN else options.decibel(text)


def bench_lines(given: argparse.Namespace) -> Iterator[str]:
    """The lines of the tables, as they are found. InputWrongError where options are wrong."""
    parts = BENCH_PARTS[given.what]
    if given.part is not None and given.part not in parts:
        raise InputWrongError(
            f"bench {given.what} has no part {given.part!r}; it has {', '.join(parts)}"
        )
    for name, least in (("share", given.share), ("utterances", given.utterances)):
        if least is not None and least < 1:
            raise InputWrongError(f"--{name} must be 1 or more")
    if given.hours is not None and not given.hours > 0:
        raise InputWrongError("--hours must be more than 0")
    if given.part != ANYTIME and (given.only_table or CLEAN in (given.level or ())):
        raise InputWrongError(f"--only-table and --level {CLEAN} belong to talk --part {ANYTIME}")
    share = given.share or _SHARES[given.what]
    if given.what == "talk":
        return _talk(given, share)
    wanted = (given.part,) if given.part else parts
    return chain.from_iterable(_hear(given, part, share) for part in wanted)


def _hear(given: argparse.Namespace, part: str, share: int) -> Iterator[str]:
    if part == "people":
        return _people(given)
    if part == "numbers":
        return _numbers(given)
    if part == "kinds":
        return _kinds(given, share)
    if part == "belief":
        return _belief(given)
    return _cost(given, part)


def _people(given: argparse.Namespace) -> Iterator[str]:
    from assistant.lab.benches import hear_people
    from assistant.simulator.noise import engine_noise

    if given.part is None and not given.recordings.is_dir():
        yield f"no recordings of people at {given.recordings}: their tables are left out"
        return
    ears = _ears_and_files(given.ear, given.beside or ())
    people = hear_people.PeopleBench(given.recordings, engine_noise, ears, given.jobs)
    yield from hear_people.bench_lines(people)


def _numbers(given: argparse.Namespace) -> Iterator[str]:
    from assistant.lab.benches import hear_numbers
    from assistant.simulator.noise import engine_noise

    made_only = bool(given.kind)
    places = [one for one in hear_numbers.PLACES if not made_only or one.noise != "recorded"]
    ears = _ears_and_files(given.ear, given.beside or ())
    plan = hear_numbers.NumberBench(
        given.recordings, engine_noise, ears, places=places, share=given.share or 1, jobs=given.jobs
    )
    yield from hear_numbers.bench_lines(plan)


def _ears_and_files(names: Sequence[str] | None, beside: Sequence[Path]) -> list[Ear]:
    """The plain and the tuned ear, or those of them that are named, and other adapters' files."""
    from assistant.lab.benches.ears import Ear
    from assistant.recogniser.adapter import BUNDLED

    own = {"plain": None, "tuned": BUNDLED}
    for file in beside:
        if not file.is_file():
            raise InputWrongError(f"{file}: no such file")
    return [
        *(Ear(name, own[name]) for name in own if name in (names or own)),
        *(Ear(file.stem, file) for file in beside),
    ]


def _belief(given: argparse.Namespace) -> Iterator[str]:
    from assistant.commands import options
    from assistant.lab.benches import hear_with_belief
    from assistant.simulator.noise import engine_noise

    if not given.recordings.is_dir():
        yield f"no recordings of people at {given.recordings}: nothing to hear with a belief"
        return
    levels = tuple(given.level or hear_with_belief.BELIEF_LEVELS_DB)
    wanted = hear_with_belief.BeliefBench(engine_noise, given.recordings, given.left_out, levels)
    yield from hear_with_belief.bench_lines(wanted, options.utterances)


def _kinds(given: argparse.Namespace, share: int) -> Iterator[str]:
    from assistant.commands import options
    from assistant.lab.benches import hear_in_noise
    from assistant.simulator.noise import KINDS

    noise, kinds = record_noise.noises(given.kind or [*KINDS, *record_noise.recording_names()])
    wanted = hear_in_noise.NoiseBench(
        noise, kinds, given.level or hear_in_noise.LEVELS, share, given.ear or (),
        _there(given.recordings),
    )  # fmt: skip
    return hear_in_noise.bench_lines(wanted, options.utterances)


def _there(recordings: Path) -> Path | None:
    return recordings if recordings.is_dir() else None


def _cost(given: argparse.Namespace, part: str) -> Iterator[str]:
    from assistant.commands import options
    from assistant.lab.benches import hear_cost, recognisers

    memory = partial(hear_cost.memory_lines, hours=given.hours or 0.0)
    work = hear_cost.latency_lines if part == "latency" else memory
    for name in given.ear or [recognisers.WHOLE]:
        count = given.utterances or _UTTERANCES[part]
        yield from work(name, partial(recognisers.recogniser, name), count, options.utterances)


def _talk(given: argparse.Namespace, share: int) -> Iterator[str]:
    """Sound in, decision out."""
    from assistant.grammar.wake_phrase import PHRASE, Wake
    from assistant.lab.benches import talk_decisions
    from assistant.recogniser.choose import choose_recogniser
    from assistant.recogniser.pipeline import RecognitionPipeline

    part = given.part or "sentences"
    made = talk_decisions.NOISE_KINDS if part == "noise" else ("mix",)
    noise, kinds = record_noise.noises(given.kind or [*made, *record_noise.recording_names()])
    chosen = choose_recogniser()
    yield chosen.line
    wake = Wake(given.phrase or PHRASE) if part == "wake" else None
    pipeline = RecognitionPipeline(chosen.recogniser, wake=wake)
    yield from _talked(given, part, share, pipeline, kinds, noise)


def _talked(
    given: argparse.Namespace,
    part: str,
    share: int,
    pipeline: RecognitionPipeline,
    kinds: Sequence[str],
    noise: Noise,
) -> Iterator[str]:
    from assistant.belief.history import report_fault
    from assistant.commands import options
    from assistant.config.engine_file import find_engine
    from assistant.lab.benches import talk_decisions, talk_wake

    if part == "noise":
        return talk_decisions.noise_only_lines(
            options.utterances, given.hours or NOISE_HOURS, pipeline, kinds, noise
        )
    if part == "wake":
        recordings = given.recordings
        return talk_wake.bench_lines(pipeline, options.utterances, recordings, share, kinds, noise)
    limits = partial(report_fault, find_engine(options.PRACTICE).engine)
    if part == ANYTIME:
        return _anytime(given, share, pipeline, kinds, noise, limits)
    return talk_decisions.bench_lines(
        pipeline, options.utterances, given.recordings, part, share, kinds, noise, limits
    )


def _anytime(
    given: argparse.Namespace,
    share: int,
    pipeline: RecognitionPipeline,
    kinds: Sequence[str],
    noise: Noise,
    limits: Objection,
) -> Iterator[str]:
    """What nobody asked about, with the lists of the practice engine."""
    from assistant.lab.benches import talk_anytime
    from assistant.lab.benches.anytime_situations import Situations
    from assistant.lab.days.random_day import config_of

    levels = [None if one == CLEAN else one for one in given.level or talk_anytime.LEVELS]
    situations = Situations(config_of(options.PRACTICE, "psi", False))
    bench = talk_anytime.AnytimeBench(
        situations, pipeline, options.utterances, _there(given.recordings), share, levels, kinds,
        noise, limits,
    )  # fmt: skip
    return talk_anytime.bench_lines(bench, given.only_table or ())
