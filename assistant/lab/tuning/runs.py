"""One training run with somebody held out, and how many steps the last run should take.

Knows how runs are put together; knows no recordings' folder and prints nothing.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from assistant.enrolment.augmentation import Augmentation, NoiseMaker
from assistant.enrolment.augmentation import noise as made_noise
from assistant.enrolment.examples import Example
from assistant.enrolment.teacher import Teacher
from assistant.enrolment.training import (
    Evaluation,
    TrainingSettings,
    batches,
    best_evaluation,
    train_side_by_side,
)
from assistant.lab.tuning.number_examples import TrainingExamples, TrainingMixture
from assistant.lab.tuning.training_corpus import TrainingCorpus
from assistant.lab.tuning.weight_averaging import averaged
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound
from assistant.recogniser.snr import Noise
from assistant.recogniser.whisper_weights import Float32Array

_HELD_OUT = 256  # examples in an evaluation; with a small batch size four batches
AUGMENTATION, MIXTURE = Augmentation(), TrainingMixture()
EVALUATED_ON = Augmentation(clean=0.2, snr_db=(0.0, 25.0))  # as beside an engine

_Tell = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class EvaluationNoise:
    """The engine's noise, which is evaluated in and never trained on."""

    noise: Noise

    def __call__(self, count: int, rng: np.random.Generator) -> Sound:
        """So many samples of all kinds mixed."""
        return self.noise("mix", count / SPEECH_RATE_HZ + 0.01, rng)[:count]


@dataclass(frozen=True, slots=True, eq=False)
class TrainingRun:
    """What became of one run."""

    held_out: str
    """Who; "" for nobody."""
    settings: TrainingSettings
    evaluations: tuple[Evaluation, ...]

    def line(self) -> str:
        """One row of the table of runs."""
        best = best_evaluation(self.evaluations)
        curve = " ".join(
            str(e.step) if math.isnan(e.held_out_nll) else f"{e.step}:{e.held_out_nll:.3f}"
            for e in self.evaluations
        )
        s = self.settings
        return (
            f"{self.held_out or 'nobody':<12} rank {s.rank} {s.adapter_rate:g}/{s.full_rate:g}"
            f"{' veiled' if s.masking else ''} batch {s.batch} "
            f"seed {s.seed} best {best.step:>4}  {curve}"
        )


def train_runs(
    teacher: Teacher,
    corpus: TrainingCorpus,
    held_out: str,
    settings: Sequence[TrainingSettings],
    noise: Noise,
    tell: _Tell,
    processes: int = 0,
    learnt_under: NoiseMaker = made_noise,
) -> list[TrainingRun]:
    """Train on everybody else with each of the settings, side by side.

    noise: evaluated in. learnt_under: mixed in while learning.
    """
    tell(f"keeping out {held_out or 'nobody'}")
    first = settings[0]
    trained_on = corpus.without(held_out) if held_out else corpus
    evaluated_on = _evaluation_examples(corpus.only(held_out), first, noise) if held_out else ()
    examples = TrainingExamples(trained_on, AUGMENTATION, MIXTURE, first.seed, learnt_under)
    drawn = batches(examples, first.batch, processes)
    try:
        evaluations = train_side_by_side(teacher, drawn, settings, evaluated_on, tell)
    finally:
        drawn.close()
    return [
        TrainingRun(held_out, each, tuple(run))
        for each, run in zip(settings, evaluations, strict=True)
    ]


def averaged_after(
    runs: Sequence[TrainingRun], step: int, share: float, rank: int
) -> dict[str, Float32Array]:
    """The adapters of runs side by side at that step, averaged."""
    return averaged([evaluation_after(run, step).adapter for run in runs], share, rank)


def _evaluation_examples(
    corpus: TrainingCorpus, settings: TrainingSettings, noise: Noise
) -> Sequence[Example]:
    has_numbers = bool(corpus.digits or corpus.word_takes)
    numbers_only = TrainingMixture(nothing=0.0, digits=float(has_numbers), people=0.0, orders=0.0)
    examples = TrainingExamples(
        corpus, EVALUATED_ON, numbers_only, settings.seed + 1000, EvaluationNoise(noise)
    )
    return examples.batch(0, min(_HELD_OUT, 4 * settings.batch))


def steps_for(held_out: str, runs: Sequence[TrainingRun]) -> int:
    """The best number of steps for a fold, chosen by the other folds; "": by all of them."""
    others = [run for run in runs if run.held_out and run.held_out != held_out]
    steps = sorted(set.intersection(*({e.step for e in run.evaluations} for run in others)))

    def mean_gain(step: int) -> float:
        gains = []
        for run in others:
            curve = {e.step: e.held_out_nll for e in run.evaluations}
            gains.append(curve[step] / curve[0])
        return float(np.mean(gains))

    return min(steps, key=mean_gain)


def evaluation_after(run: TrainingRun, step: int) -> Evaluation:
    """Its evaluation at that step, or the nearest before."""
    return max((e for e in run.evaluations if e.step <= step), key=lambda e: e.step)
