"""What `footplate bench hear` measures: how often an ear is right, how sure, and how fast.

Knows recordings and an ear; the engine's noise is given to it. Times need a quiet machine.
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
from assistant.messages import Expected, Meaning, Report
from assistant.recogniser.base import Grammar, Recogniser, Sound
from assistant.recogniser.snr import Noise, mix

_SURE = 0.99  # posterior at which a number may count at once


@dataclass(frozen=True, slots=True)
class Trial:
    """One utterance: the sound and what was meant."""

    sound: Sound
    meant: Meaning


@dataclass(frozen=True, slots=True)
class HearingTally:
    """How a number of trials went. latencies_s: one for each trial."""

    trials: int
    right: int
    sure_right: int
    sure_wrong: int
    latencies_s: tuple[float, ...]

    def line(self, name: str) -> str:
        """One row of a table: per cent right, sure and right, sure and wrong; times."""
        share = 100 / max(1, self.trials)
        median, most = np.quantile(self.latencies_s, [0.5, 0.95])
        return (
            f"{name:<34}{self.trials:>5}{share * self.right:>8.1f}{share * self.sure_right:>8.1f}"
            f"{share * self.sure_wrong:>8.1f}{median:>8.2f}{most:>8.2f}"
        )


_HEADER = f"{'':<34}{'n':>5}{'right%':>8}{'sure%':>8}{'wrong%':>8}{'med s':>8}{'95% s':>8}"


def tally(ear: Recogniser, grammar: Grammar, trials: Iterable[Trial]) -> HearingTally:
    """Hear them all. Sure: probability above SURE and the figures of refusal not against it."""
    right = sure_right = sure_wrong = 0
    latencies: list[float] = []
    for trial in trials:
        begin = perf_counter()
        opinion = ear.hear(trial.sound, grammar)
        latencies.append(perf_counter() - begin)
        best = opinion.alternatives[0] if opinion.alternatives else None
        good = best is not None and best.meaning == trial.meant
        held = (opinion.log_ratio or 0.0) >= -1 and (opinion.average or 0.0) >= -1
        sure = best is not None and best.probability > _SURE and held
        right += good
        sure_right += good and sure
        sure_wrong += sure and not good
    return HearingTally(len(latencies), right, sure_right, sure_wrong, tuple(latencies))


def order_trials(
    recordings: Path, names: Sequence[str], snr_db: float | None, seed: int
) -> Iterator[Trial]:
    """Orders in kitchen noise, mixed as their benchmark does; None: as recorded."""
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
    """The recorded orders that the tuned ear never learnt from: half of them, drawn once."""
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
            under = noise("mix", len(sound) / 16_000 + 0.1, rng)
            sound = mix(sound, under, snr_db)
        yield Trial(sound, Report("pressure", float(value), "psi"))


def bench_lines(
    recordings: Path, engine_noise: Noise, ear: Recogniser | None = None
) -> Iterator[str]:
    """The tables, line by line."""
    from assistant.grammar.phrases import grammar
    from assistant.recogniser.choose import choose_recogniser

    if ear is None:
        chosen = choose_recogniser()
        ear = chosen.ear
        yield chosen.line
    orders = Orders()
    ear.prepare(orders)
    yield f"people's orders, {orders.automaton.count():.0e} sentences, kitchen noise"
    yield _HEADER
    names = order_names(recordings)[:80]
    for snr_db in (None, 24.0, 18.0, 12.0, 6.0):
        yield tally(ear, orders, order_trials(recordings, names, snr_db, 2)).line(
            level_name(snr_db)
        )
    pressures = grammar(Expected("pressure"))
    ear.prepare(pressures)
    yield f"people's digits as pressures, {len(pressures.sentences)} sentences, engine noise"
    yield "(the bundled ear has learnt from these three people: their figures are flattered)"
    yield _HEADER
    people = bench_sounds.speakers(recordings)
    for snr_db in (None, 20.0, 10.0, 5.0):
        trials = reading_trials(recordings, people, engine_noise, snr_db, 60, 3)
        yield tally(ear, pressures, trials).line(level_name(snr_db))
    yield "right: best guess; sure: probability over 0.99 and not refused; wrong: sure but wrong"


def level_name(snr_db: float | None) -> str:
    """A row's name in the tables."""
    return "clean" if snr_db is None else f"{snr_db:.0f} dB"
