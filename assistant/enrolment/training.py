"""The training loop: examples in, an adapter of the encoder out, evaluated as it goes.

Knows torch and examples; knows no recordings and no files. The same seed on the same kind of
machine gives the same adapter but for rounding.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Callable, Generator, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from dataclasses import dataclass, replace
from multiprocessing import get_context
from typing import Any

import numpy as np

from assistant.enrolment.examples import Example, Examples
from assistant.enrolment.spec_augment import NO_MASKING, SpecAugment
from assistant.enrolment.teacher import Batch, Teacher
from assistant.enrolment.torch_whisper import Tensor, torch
from assistant.recogniser.whisper_weights import Float32Array

_EVALUATION_BATCH = 64  # examples


@dataclass(frozen=True, slots=True)
class TrainingSettings:
    """How one run is trained."""

    steps: int = 420
    """Of the schedule of the learning rate."""
    stop: int | None = None
    """The step at which the run ends; None: with the schedule."""
    batch: int = 256
    """Examples in a batch."""
    rank: int = 16
    """Of the low-rank products."""
    adapter_rate: float = 3.5e-4
    """Greatest learning rate of the low-rank products."""
    full_rate: float = 7e-5
    """Greatest learning rate of the arrays that are trained in full."""
    warm_up: int = 40
    """Steps."""
    evaluate_every: int = 60
    """Steps between two evaluations on what is held out."""
    patience: int = 3
    """Evaluations without a better one after which the run stops."""
    weight_decay: float = 0.01
    last_layers: int | None = None
    """How many of the encoder's layers get an adapter; None: all."""
    masking: SpecAugment = NO_MASKING
    """What is done to every spectrogram."""
    seed: int = 0


@dataclass(frozen=True, slots=True, eq=False)
class Evaluation:
    """Where a run stood after so many steps."""

    step: int
    training_nll: float
    """Nats a token of the last batches; NaN before the first."""
    held_out_nll: float
    """Nats a token of what is held out; NaN: nothing is."""
    adapter: dict[str, Float32Array]
    """Averaged over the steps so far."""


def train(
    teacher: Teacher,
    batches: Iterator[list[Example]],
    settings: TrainingSettings,
    held_out: Sequence[Example] = (),
    tell: Callable[[str], None] = lambda line: None,
) -> list[Evaluation]:
    """One run; its evaluations in order. Ends early when `held_out` gets no better for `patience`
    of them."""
    return train_side_by_side(teacher, batches, [settings], held_out, tell)[0]


def train_side_by_side(
    teacher: Teacher,
    batches: Iterator[list[Example]],
    settings: Sequence[TrainingSettings],
    held_out: Sequence[Example] = (),
    tell: Callable[[str], None] = lambda line: None,
) -> list[list[Evaluation]]:
    """Several runs over the same batches, as long as the first and evaluated together; the
    evaluations of each. Ends early when none gets better for `patience` evaluations."""
    first = settings[0]
    trainers = [Trainer(teacher, each) for each in settings]
    evaluation_batches = [
        teacher.batch(held_out[at : at + _EVALUATION_BATCH])
        for at in range(0, len(held_out), _EVALUATION_BATCH)
    ]
    evaluations = [[trainer.evaluate(evaluation_batches)] for trainer in trainers]
    last = first.stop or first.steps
    for step in range(1, last + 1):
        batch = teacher.batch(next(batches))
        for trainer in trainers:
            trainer.step(batch)
        if step % first.evaluate_every == 0 or step == last:
            for run, trainer in zip(evaluations, trainers, strict=True):
                run.append(trainer.evaluate(evaluation_batches))
                tell(
                    f"step {step}: learning {trainer.running_nll:.3f}, "
                    f"kept out {run[-1].held_out_nll:.3f} nats"
                )
            if all(past_best(run, first.patience) for run in evaluations):
                break
    return evaluations


class Trainer:
    """One adapter in training. running_nll: see `Evaluation.training_nll`."""

    def __init__(self, teacher: Teacher, settings: TrainingSettings) -> None:
        library = torch()
        library.manual_seed(settings.seed)
        self._teacher, self._settings = teacher, settings
        self.adapter = teacher.model.adapter(settings.rank, settings.seed, settings.last_layers)
        low_rank = [v for name, v in self.adapter.items() if name.endswith(("/A", "/B"))]
        full = [v for name, v in self.adapter.items() if not name.endswith(("/A", "/B"))]
        self._optimiser = library.optim.AdamW(
            [{"params": low_rank, "lr": settings.adapter_rate},
             {"params": full, "lr": settings.full_rate}],
            weight_decay=settings.weight_decay, betas=(0.9, 0.98),
        )  # fmt: skip
        self._schedule = library.optim.lr_scheduler.LambdaLR(
            self._optimiser, lambda step: rate_factor(step, settings)
        )
        self._average = {name: value.detach().clone() for name, value in self.adapter.items()}
        self._done = 0
        self.running_nll = math.nan

    def step(self, batch: Batch) -> None:
        """Learn from one batch."""
        rng = np.random.default_rng([self._settings.seed, 5, self._done])
        loss = self._teacher.loss(batch, self.adapter, self._settings.masking, rng)
        self._optimiser.zero_grad(set_to_none=True)
        loss.backward()
        torch().nn.utils.clip_grad_norm_([*self.adapter.values()], 1.0)
        self._optimiser.step()
        self._schedule.step()
        self._done += 1
        _update_average(self._average, self.adapter, self._done)
        nll, before = float(loss.detach()), self.running_nll
        self.running_nll = nll if math.isnan(before) else 0.95 * before + 0.05 * nll

    def evaluate(self, held_out: Sequence[Batch]) -> Evaluation:
        """Where it stands."""
        with torch().no_grad():
            losses = [
                (float(self._teacher.loss(part, self._average)), len(part.examples))
                for part in held_out
            ]
        total = sum(count for _, count in losses)
        mean = sum(loss * count for loss, count in losses) / total if total else math.nan
        adapter = {
            name: value.detach().cpu().numpy().copy() for name, value in self._average.items()
        }
        return Evaluation(self._done, self.running_nll, mean, adapter)


def best_evaluation(evaluations: Sequence[Evaluation]) -> Evaluation:
    """The best on what is held out; the last one where nothing is."""
    known = [one for one in evaluations if not math.isnan(one.held_out_nll)]
    return min(known, key=lambda one: one.held_out_nll) if known else evaluations[-1]


def past_best(evaluations: Sequence[Evaluation], patience: int) -> bool:
    """Whether the best is `patience` evaluations ago."""
    last = evaluations[-1]
    if math.isnan(last.held_out_nll):
        return False
    between = last.step - evaluations[-2].step
    return last.step - best_evaluation(evaluations).step >= patience * between


def rate_factor(step: int, settings: TrainingSettings) -> float:
    """Of the greatest learning rate: warm-up, then half a cosine to nothing."""
    done = min(1.0, step / settings.steps)
    return min(1.0, (step + 1) / settings.warm_up) * 0.5 * (1 + math.cos(math.pi * done))


def _update_average(average: dict[str, Tensor], now: dict[str, Any], step: int) -> None:
    """Running mean of the later steps: the weight of the past grows with their number."""
    keep = min(0.995, step / (step + 9))
    with torch().no_grad():
        for name, value in now.items():
            average[name].mul_(keep).add_(value, alpha=1 - keep)


def batches(examples: Examples, count: int, processes: int) -> Generator[list[Example], None, None]:
    """Batches 0, 1, 2... of so many, made by that many processes; in this one for 0."""
    if processes == 0:
        number = 0
        while True:
            yield examples.batch(number, count)
            number += 1
    # Forked, so that the sounds are shared rather than sent.
    fork = get_context("fork")
    with ProcessPoolExecutor(
        processes, fork, initializer=_set_examples, initargs=(examples,)
    ) as pool:
        pending: deque[Future[list[Example]]] = deque()
        number = 0
        while True:
            while len(pending) < processes + 4:
                pending.append(pool.submit(_batch, number, count))
                number += 1
            yield pending.popleft().result()


_examples: Examples | None = None


def _set_examples(examples: Examples) -> None:
    global _examples
    _examples = examples


def _batch(number: int, count: int) -> list[Example]:
    assert _examples is not None
    batch = _examples.batch(number, count)
    # float16 halves the transfer; what is lost is 60 dB below the sound.
    return [replace(one, sound=one.sound.astype(np.float16)) for one in batch]
