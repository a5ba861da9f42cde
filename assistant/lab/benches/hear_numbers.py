"""`footplate bench hear --part numbers`: people who say numbers, by several ears.

Each take is a pressure, without a boiler's help: in the engine's mixed noise, and in recorded noise
that nothing was learnt under. Nobody in the tables was learnt from or calibrated by. Knows
recordings and adapters; the engine's noise is passed in.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import numpy as np

from assistant.devices.sound import read_samples
from assistant.grammar.phrases import grammar
from assistant.lab.benches.ears import Ear, in_processes, recogniser_of
from assistant.lab.benches.number_takes import (
    SOURCES,
    Fold,
    NumberTake,
    people_in,
    pressure_takes,
    row_of,
)
from assistant.lab.benches.recorded_noise import LeftOutNoise
from assistant.lab.benches.recordings import ROOM_TONE
from assistant.lab.benches.table import Column, ResultTable
from assistant.messages import SPEECH_RATE_HZ, Expected, Meaning
from assistant.recogniser.base import NBest, Sound
from assistant.recogniser.snr import Noise, mix

SURE = 0.99  # posterior above which a number may be accepted at once
LEAST = -1.0  # log ratio and average of a session's gates, roughly
_AROUND_S = 0.3  # of room tone before and after a take
_REPEATS = {"an4": 2, "gsc": 2}  # times a take is heard in each noise: of these there are few
MANY = ("coswara",)  # sources with dozens of takes of each person
LEVELS_DB = (10.0, 5.0)
RECORDED = "recorded"


@dataclass(frozen=True, slots=True)
class Place:
    """Where the takes are heard."""

    noise: str
    """"clean", "engine" (made, mixed) or "recorded"."""
    snr_db: float | None = None

    def __str__(self) -> str:
        return self.noise if self.snr_db is None else f"{self.noise} {self.snr_db:.0f} dB"


PLACES = (
    Place("clean"),
    *(Place("engine", level) for level in LEVELS_DB),
    *(Place(RECORDED, level) for level in LEVELS_DB),
)


@dataclass(frozen=True, slots=True)
class Hearing:
    """What became of one take."""

    take: str
    """The recording's name."""
    row: str
    """See `row_of`."""
    kind: str
    """Of the recorded noise; "" in other places."""
    meant: str
    understood: str
    right: bool
    probability: float
    sure: bool
    """Accepted at once, were it for the sound alone."""


@dataclass(frozen=True, slots=True)
class NumberBench:
    """What to measure."""

    recordings: Path
    noise: Noise
    ears: Sequence[Ear]
    fold: Fold = "judge"
    places: Sequence[Place] = PLACES
    share: int = 1
    """Of a source that is `MANY`, one in so many takes."""
    jobs: int = 1
    """Processes."""
    sources: Sequence[str] = SOURCES
    exponents: Sequence[float] = ()
    """Evidence exponents to hear with, each as an ear of its own; none: the ear's."""


def hear_all(plan: NumberBench) -> dict[tuple[str, Place], list[Hearing]]:
    """Every take by every ear in every place, by the ear's name and the place.

    With exponents the name of each stands in place of the ear's.
    """
    parts = max(1, plan.jobs)
    jobs = [
        (plan, ear, place, part, parts)
        for ear in plan.ears
        for place in plan.places
        for part in range(parts)
    ]
    heard: dict[tuple[str, Place], list[Hearing]] = {}
    for job, by_name in in_processes(_heard, jobs, plan.jobs):
        for name, hearings in by_name.items():
            heard.setdefault((name, job[2]), []).extend(hearings)
    return heard


def _heard(job: tuple[NumberBench, Ear, Place, int, int]) -> dict[str, list[Hearing]]:
    plan, ear, place, part, parts = job
    recogniser = recogniser_of(ear)
    pressures = grammar(Expected("pressure"))
    names = [f"{one:g}" for one in plan.exponents] or [ear.name]
    heard: dict[str, list[Hearing]] = {name: [] for name in names}
    for take, meant, sound, kind in list(_trials(plan, place))[part::parts]:
        lists = (
            recogniser.hear_with(sound(), pressures, [(one, one) for one in plan.exponents])
            if plan.exponents
            else [recogniser.hear(sound(), pressures)]
        )
        for name, n_best in zip(names, lists, strict=True):
            heard[name].append(_hearing(take, meant, kind, n_best))
    return heard


def _hearing(take: NumberTake, meant: Meaning, kind: str, n_best: NBest) -> Hearing:
    best = n_best.alternatives[0] if n_best.alternatives else None
    figures = (n_best.log_ratio, n_best.average)
    passes = all(figure is not None and figure >= LEAST for figure in figures)
    return Hearing(
        take.file.name,
        row_of(take),
        kind,
        " ".join(take.words),
        best.words if best else n_best.text,
        best is not None and best.meaning == meant,
        best.probability if best else 0.0,
        best is not None and best.probability > SURE and passes,
    )


def _takes(plan: NumberBench) -> list[tuple[NumberTake, Meaning]]:
    every = list(pressure_takes(plan.recordings, plan.fold))
    return [
        one
        for source in plan.sources
        for one in [each for each in every if each[0].source == source][
            :: plan.share if source in MANY else 1
        ]
    ]


_Trial = tuple[NumberTake, Meaning, Callable[[], Sound], str]


def _trials(plan: NumberBench, place: Place) -> Iterator[_Trial]:
    """Takes with what they mean, the sound (made when it is called) and the kind of its noise."""
    recorded = LeftOutNoise(plan.recordings)
    kinds = recorded.kinds
    if place.noise == RECORDED and not kinds:
        return
    for number, (take, meant) in enumerate(_takes(plan)):
        repeats = 1 if place.snr_db is None else _REPEATS.get(take.source, 1)
        for again in range(repeats):
            in_recorded = place.noise == RECORDED
            kind = kinds[(number + again * (len(kinds) // 2)) % len(kinds)] if in_recorded else ""
            noise, of_kind = (recorded, kind) if in_recorded else (plan.noise, "mix")

            def sound(
                file: Path = take.file,
                noise: Noise = noise,
                of_kind: str = of_kind,
                seed: tuple[int, ...] = (41, number, again),
            ) -> Sound:
                return in_place(read_samples(file), noise, of_kind, place.snr_db, seed)

            yield take, meant, sound, kind


def in_place(
    sound: Sound, noise: Noise, kind: str, snr_db: float | None, seed: Sequence[int]
) -> Sound:
    """A take with room tone around it, in noise; snr_db None: without."""
    rng = np.random.default_rng(seed)
    around = np.pad(sound, int(_AROUND_S * SPEECH_RATE_HZ))
    tone = ROOM_TONE * rng.standard_normal(len(around))
    quiet = np.asarray(around + tone, dtype=np.float32)
    if snr_db is None:
        return quiet
    return mix(quiet, noise(kind, len(quiet) / SPEECH_RATE_HZ + 0.1, rng), snr_db)


_TABLE = ResultTable(
    34, Column("n", 6), *(Column(name, 8, ".1f") for name in ("right%", "sure%", "wrong%"))
)


def bench_lines(plan: NumberBench) -> Iterator[str]:
    """The tables, line by line."""
    takes = [take for take, _ in _takes(plan)]
    if not takes:
        yield "no numbers/ among the recordings: people's numbers are left out"
        return
    yield (
        f"numbers of {people_in(takes)} people whom the bundled ear has not met, {len(takes)} "
        "takes as pressures, without a boiler"
    )
    heard = hear_all(plan)
    for ear in plan.ears:
        yield f"ear: {ear.name}"
        yield _TABLE.header()
        for place in plan.places:
            hearings = heard.get((ear.name, place), [])
            yield from _rows(hearings, str(place))
    yield from _by_kind(plan, heard)
    yield from _reliability(plan, heard)
    yield from _wrong(plan, heard)


def _rows(hearings: Sequence[Hearing], place: str) -> Iterator[str]:
    for row in sorted({one.row for one in hearings}):
        yield _row(f"{row}, {place}", [one for one in hearings if one.row == row])
    if hearings:
        yield _row(f"all, {place}", hearings)


def _row(name: str, hearings: Sequence[Hearing]) -> str:
    share = 100 / max(1, len(hearings))
    right = sum(one.right for one in hearings)
    sure_right = sum(one.sure and one.right for one in hearings)
    sure_wrong = sum(one.sure and not one.right for one in hearings)
    return _TABLE.row(name, len(hearings), *(share * n for n in (right, sure_right, sure_wrong)))


def _by_kind(plan: NumberBench, heard: dict[tuple[str, Place], list[Hearing]]) -> Iterator[str]:
    places = [place for place in plan.places if place.noise == RECORDED]
    hearings = {
        ear.name: [one for place in places for one in heard.get((ear.name, place), [])]
        for ear in plan.ears
    }
    kinds = sorted({one.kind for every in hearings.values() for one in every})
    if not kinds:
        return
    yield "by kind of recorded noise, its levels together"
    yield _TABLE.header()
    for kind in kinds:
        for ear in plan.ears:
            of_kind = [one for one in hearings[ear.name] if one.kind == kind]
            yield _row(f"{kind}, {ear.name}", of_kind)


_BINS = (0.0, 0.5, 0.8, 0.9, 0.95, 0.99, 0.999, 1.01)


def _reliability(plan: NumberBench, heard: dict[tuple[str, Place], list[Hearing]]) -> Iterator[str]:
    for ear in plan.ears:
        every = [one for place in plan.places for one in heard.get((ear.name, place), [])]
        yield f"reliability of the posterior, every place together: {ear.name}"
        for low, high in pairwise(_BINS):
            binned = [one for one in every if low <= one.probability < high]
            if binned:
                says = 100 * float(np.mean([one.probability for one in binned]))
                true = 100 * float(np.mean([one.right for one in binned]))
                yield (
                    f"  said {low:.3f} to {min(high, 1):.3f}: {len(binned):>5} times, "
                    f"says {says:5.1f} %, is right {true:5.1f} %"
                )


def _wrong(plan: NumberBench, heard: dict[tuple[str, Place], list[Hearing]]) -> Iterator[str]:
    for ear in plan.ears:
        for place in plan.places:
            for one in heard.get((ear.name, place), []):
                if one.sure and not one.right:
                    yield (
                        f"sure and wrong: {ear.name}, {one.row}, {place}: {one.meant} taken for "
                        f"{one.understood} at {one.probability:.4f}"
                    )
