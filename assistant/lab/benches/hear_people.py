"""`footplate bench hear --part people`: how often a recogniser is right, how sure, and how fast.

Knows recordings and a recogniser; the engine's noise is passed in. Times need an idle machine.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

import numpy as np

from assistant.devices.sound import read_samples
from assistant.lab.benches import recordings as bench_sounds
from assistant.lab.benches.drinks_grammar import Orders, as_meaning
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


def tally_trials(recogniser: Recogniser, grammar: Grammar, trials: Iterable[Trial]) -> HearingTally:
    """Recognise them all. Sure: a posterior above `_SURE` that passes the gates."""
    right = sure_right = sure_wrong = 0
    latencies: list[float] = []
    for trial in trials:
        begin = perf_counter()
        n_best = recogniser.hear(trial.sound, grammar)
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


def bench_lines(
    recordings: Path, engine_noise: Noise, recogniser: Recogniser | None = None
) -> Iterator[str]:
    """The tables, line by line."""
    from assistant.grammar.phrases import grammar
    from assistant.recogniser.choose import choose_recogniser

    if recogniser is None:
        chosen = choose_recogniser()
        recogniser = chosen.recogniser
        yield chosen.line
    orders = Orders()
    recogniser.prepare(orders)
    yield f"people's orders, {orders.automaton.count():.0e} sentences, kitchen noise"
    yield _TABLE.header()
    names = order_names(recordings)[:80]
    for snr_db in (None, 24.0, 18.0, 12.0, 6.0):
        trials = order_trials(recordings, names, snr_db, 2)
        yield tally_trials(recogniser, orders, trials).row(level_name(snr_db))
    pressures = grammar(Expected("pressure"))
    recogniser.prepare(pressures)
    yield f"people's digits as pressures, {len(pressures.sentences)} sentences, engine noise"
    yield "(the bundled ear was trained on these three people: its figures are flattered)"
    yield _TABLE.header()
    people = bench_sounds.speakers(recordings)
    for snr_db in (None, 20.0, 10.0, 5.0):
        trials = reading_trials(recordings, people, engine_noise, snr_db, 60, 3)
        yield tally_trials(recogniser, pressures, trials).row(level_name(snr_db))
    yield "right: best guess; sure: probability over 0.99 and not refused; wrong: sure but wrong"


def level_name(snr_db: float | None) -> str:
    """A row's name in the tables."""
    return "clean" if snr_db is None else f"{snr_db:.0f} dB"
