"""One run of learning with somebody kept out, and how many steps the last run should take.

Knows how runs are put together; knows no recordings' folder and prints nothing.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from assistant.enrolment.augmentation import Augmentation
from assistant.enrolment.clip_corpus import Corpus
from assistant.enrolment.examples import Example, Examples, MixtureWeights
from assistant.enrolment.teacher import Teacher
from assistant.enrolment.training import (
    Evaluation,
    TrainingSettings,
    batches,
    best_evaluation,
    train_side_by_side,
)
from assistant.lab.tuning.weight_averaging import averaged
from assistant.recogniser.base import Sound
from assistant.recogniser.snr import Noise
from assistant.recogniser.whisper_weights import Float32Array

_HELD_OUT = 256  # examples by which a run is looked at; on a small machine four batches
ROUGH, SHARES = Augmentation(), MixtureWeights()
# Noise levels by which it is looked at: what an ear beside an engine gets.
EVALUATED_ON = Augmentation(clean=0.2, snr_db=(0.0, 25.0))

_Tell = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class TrainingPlace:
    """The engine's noise as a run is looked at by: never learnt from."""

    noise: Noise

    def __call__(self, count: int, rng: np.random.Generator) -> Sound:
        """So many samples of all kinds mixed."""
        return self.noise("mix", count / 16_000 + 0.01, rng)[:count]


@dataclass(frozen=True, slots=True, eq=False)
class TrainingRun:
    """What became of it. kept_out: who, "" for nobody."""

    kept_out: str
    settings: TrainingSettings
    looks: tuple[Evaluation, ...]

    def line(self) -> str:
        """One row of the table of runs."""
        best = best_evaluation(self.looks)
        curve = " ".join(
            f"{look.step}:{look.kept_out:.3f}" if not math.isnan(look.kept_out) else f"{look.step}"
            for look in self.looks
        )
        s = self.settings
        return (
            f"{self.kept_out or 'nobody':<12} rank {s.rank} {s.adapter_rate:g}/{s.full_rate:g}"
            f"{' veiled' if s.veil else ''} batch {s.batch} "
            f"seed {s.seed} best {best.step:>4}  {curve}"
        )


def train_run(
    teacher: Teacher,
    corpus: Corpus,
    kept_out: str,
    courses: Sequence[TrainingSettings],
    noise: Noise,
    tell: _Tell,
    processes: int = 0,
) -> list[TrainingRun]:
    """Learn from everybody else by each course, side by side, looking at who is kept out under a
    noise never learnt from."""
    tell(f"keeping out {kept_out or 'nobody'}")
    first = courses[0]
    learnt_from = corpus.without(kept_out) if kept_out else corpus
    looked_at = _kept_out(corpus.only(kept_out), first, noise) if kept_out else ()
    made = batches(Examples(learnt_from, ROUGH, SHARES, first.seed), first.batch, processes)
    try:
        looks = train_side_by_side(teacher, made, courses, looked_at, tell)
    finally:
        made.close()
    return [
        TrainingRun(kept_out, own, tuple(told)) for own, told in zip(courses, looks, strict=True)
    ]


def averaged_after(
    runs: Sequence[TrainingRun], step: int, share: float, rank: int
) -> dict[str, Float32Array]:
    """What runs side by side had learnt at that step, made one."""
    return averaged([evaluation_after(one, step).adapter for one in runs], share, rank)


def _kept_out(corpus: Corpus, settings: TrainingSettings, noise: Noise) -> Sequence[Example]:
    all_one_kind = MixtureWeights(digits=1.0 if corpus.digits else 0.0, orders=0.0, nothing=0.0)
    examples = Examples(
        corpus, EVALUATED_ON, all_one_kind, settings.seed + 1000, TrainingPlace(noise)
    )
    return examples.batch(0, min(_HELD_OUT, 4 * settings.batch))


def steps_for(run_in_question: str, runs: Sequence[TrainingRun]) -> int:
    """The best number of steps by all other runs together: nobody is judged by a choice made on
    himself. For a run that is not among them, by all."""
    others = [r for r in runs if r.kept_out != run_in_question and r.kept_out]
    steps = sorted(set.intersection(*({look.step for look in r.looks} for r in others)))

    def mean_gain(step: int) -> float:
        gains = []
        for other in others:
            curve = {look.step: look.kept_out for look in other.looks}
            gains.append(curve[step] / curve[0])
        return float(np.mean(gains))

    return min(steps, key=mean_gain)


def evaluation_after(one: TrainingRun, step: int) -> Evaluation:
    """Its look at that step, or the nearest before."""
    return max((look for look in one.looks if look.step <= step), key=lambda look: look.step)
