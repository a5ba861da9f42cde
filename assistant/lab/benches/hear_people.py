"""`footplate bench hear --part people`: how often a recogniser is right, how sure, and how fast.

Knows recordings and a recogniser; the engine's noise is passed in. Times need an idle machine.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import islice
from pathlib import Path
from time import perf_counter

import numpy as np

from assistant.devices.sound import read_samples
from assistant.grammar.phrases import grammar
from assistant.lab.benches import recordings as bench_sounds
from assistant.lab.benches.drinks_grammar import Orders, as_meaning
from assistant.lab.benches.ears import Ear, in_processes, recogniser_of
from assistant.lab.benches.table import Column, ResultTable, median_and_95
from assistant.messages import SPEECH_RATE_HZ, Expected, Meaning, Report
from assistant.recogniser.base import Grammar, Recogniser, Sound
from assistant.recogniser.snr import Noise, mix

_SURE = 0.99  # posterior from which a reading may be accepted at once
_LEAST_LOG_RATIO = _LEAST_AVERAGE = -1.0  # gates as a session has them, roughly


@dataclass(frozen=True, slots=True)
class Trial:
    """One utterance: the sound and what was meant."""

    sound: Sound
    meant: Meaning


@dataclass(frozen=True, slots=True)
class HearingTally:
    """How a number of trials went."""

    trials: int
    right: int  # the best guess is what was meant
    sure_right: int
    sure_wrong: int
    latencies_s: tuple[float, ...]  # of each trial

    def with_others(self, others: HearingTally) -> HearingTally:
        """Both together."""
        return HearingTally(
            self.trials + others.trials,
            self.right + others.right,
            self.sure_right + others.sure_right,
            self.sure_wrong + others.sure_wrong,
            self.latencies_s + others.latencies_s,
        )

    def row(self, name: str) -> str:
        """Its row of the table."""
        share = 100 / max(1, self.trials)
        counts = (self.right, self.sure_right, self.sure_wrong)
        shares = (share * count for count in counts)
        return _TABLE.row(name, self.trials, *shares, *median_and_95(self.latencies_s))


_TABLE = ResultTable(
    34,
    Column("n", 5),
    *(Column(name, 8, ".1f") for name in ("right%", "sure%", "wrong%")),
    *(Column(name, 8, ".2f") for name in ("med s", "95% s")),
)


def tally_trials(recogniser: Recogniser, live: Grammar, trials: Iterable[Trial]) -> HearingTally:
    """Recognise them all. Sure: a posterior above `_SURE` that passes the gates."""
    right = sure_right = sure_wrong = 0
    latencies: list[float] = []
    for trial in trials:
        begin = perf_counter()
        n_best = recogniser.hear(trial.sound, live)
        latencies.append(perf_counter() - begin)
        best = n_best.alternatives[0] if n_best.alternatives else None
        correct = best is not None and best.meaning == trial.meant
        passes = (n_best.log_ratio or 0.0) >= _LEAST_LOG_RATIO and (
            n_best.average or 0.0
        ) >= _LEAST_AVERAGE
        sure = best is not None and best.probability > _SURE and passes
        right += correct
        sure_right += correct and sure
        sure_wrong += sure and not correct
    return HearingTally(len(latencies), right, sure_right, sure_wrong, tuple(latencies))


def order_trials(
    recordings: Path, names: Sequence[str], snr_db: float | None, seed: int
) -> Iterator[Trial]:
    """Orders for drinks in kitchen noise, mixed as their benchmark does; None: as recorded."""
    folder = recordings / "commands"
    labels = bench_sounds.order_labels(recordings)
    kitchen = read_samples(recordings / "kitchen.flac")
    for number, name in enumerate(names):
        rng = np.random.default_rng([seed, number])
        sound = read_samples(folder / name)
        if snr_db is not None:
            sound = bench_sounds.mixed_by_peak(sound, kitchen, snr_db, rng)
        yield Trial(sound, as_meaning(labels[name]))


def order_names(recordings: Path) -> list[str]:
    """The recorded orders held out from training: half of them, drawn once."""
    names = sorted(bench_sounds.order_labels(recordings))
    drawn = np.random.default_rng(99).permutation(len(names))
    return [names[at] for at in drawn[len(names) // 2 :]]


def reading_trials(
    recordings: Path,
    speakers: Sequence[str],
    noise: Noise,
    snr_db: float | None,
    count: int,
    seed: int,
) -> Iterator[Trial]:
    """Pressures of 0 to 200 said digit by digit by people, over the engine's mixed noise."""
    for number in range(count):
        rng = np.random.default_rng([seed, number])
        value = int(rng.integers(0, 201))
        speaker = speakers[number % len(speakers)]
        sound = bench_sounds.reading(recordings, speaker, [int(d) for d in str(value)], rng)
        if snr_db is not None:
            background = noise("mix", len(sound) / SPEECH_RATE_HZ + 0.1, rng)
            sound = mix(sound, background, snr_db)
        yield Trial(sound, Report("pressure", float(value), "psi"))


ORDER_LEVELS_DB = (None, 24.0, 18.0, 12.0, 6.0)
DIGIT_LEVELS_DB = (None, 20.0, 10.0, 5.0)
_ORDERS, _DIGITS = 80, 60  # trials of a row


@dataclass(frozen=True, slots=True)
class PeopleBench:
    """What to measure."""

    recordings: Path
    noise: Noise
    ears: Sequence[Ear]
    jobs: int = 1
    """Processes, each of which hears a part of every row."""


def bench_lines(plan: PeopleBench) -> Iterator[str]:
    """The tables, line by line."""
    tallies = _tallies(plan)
    orders = Orders()
    yield f"people's orders, {orders.automaton.count():.0e} sentences, kitchen noise"
    yield from _table(plan, tallies, "orders", ORDER_LEVELS_DB)
    pressures = grammar(Expected("pressure"))
    yield f"people's digits as pressures, {len(pressures.sentences)} sentences, engine noise"
    yield from _table(plan, tallies, "digits", DIGIT_LEVELS_DB)
    yield "right: best guess; sure: probability over 0.99 and not refused; wrong: sure but wrong"
    if plan.jobs > 1:
        yield f"times: with {plan.jobs} processes beside each other"


_Row = tuple[str, str, float | None]  # ear, what, level


def _table(
    plan: PeopleBench,
    tallies: Mapping[_Row, HearingTally],
    what: str,
    levels: Sequence[float | None],
) -> Iterator[str]:
    yield _TABLE.header()
    for ear in plan.ears:
        for snr_db in levels:
            tally = tallies.get((ear.name, what, snr_db))
            if tally is not None:
                yield tally.row(f"{ear.name}, {level_name(snr_db)}")


def _tallies(plan: PeopleBench) -> dict[_Row, HearingTally]:
    """Each row, its parts heard by as many processes as there are jobs."""
    rows = [("orders", snr_db) for snr_db in ORDER_LEVELS_DB]
    if (plan.recordings / "digits").is_dir():
        rows += [("digits", snr_db) for snr_db in DIGIT_LEVELS_DB]
    jobs = [
        (plan, ear, what, snr_db, part)
        for ear in plan.ears
        for what, snr_db in rows
        for part in range(plan.jobs)
    ]
    tallies: dict[_Row, HearingTally] = {}
    for (_, ear, what, snr_db, _), tally in in_processes(_part_of_row, jobs, plan.jobs):
        row = (ear.name, what, snr_db)
        tallies[row] = tallies[row].with_others(tally) if row in tallies else tally
    return tallies


def _part_of_row(job: tuple[PeopleBench, Ear, str, float | None, int]) -> HearingTally:
    plan, ear, what, snr_db, part = job
    recogniser = recogniser_of(ear)
    live: Grammar
    if what == "orders":
        live = _orders()
        names = order_names(plan.recordings)[:_ORDERS]
        trials = order_trials(plan.recordings, names, snr_db, 2)
    else:
        live = grammar(Expected("pressure"))
        people = bench_sounds.speakers(plan.recordings)
        trials = reading_trials(plan.recordings, people, plan.noise, snr_db, _DIGITS, 3)
    recogniser.prepare(live)
    return tally_trials(recogniser, live, islice(trials, part, None, plan.jobs))


@cache
def _orders() -> Orders:
    return Orders()


def level_name(snr_db: float | None) -> str:
    """A row's name in the tables."""
    return "clean" if snr_db is None else f"{snr_db:.0f} dB"
