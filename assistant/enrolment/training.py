"""The loop that learns: examples in, small additions to the encoder out, looked at as it goes.

Knows torch and examples; knows no recordings and no files. The same seed on the same kind of
machine gives the same additions but for the last figures of its sums.
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

_AT_A_LOOK = 64  # examples worked at once where nothing is learnt


@dataclass(frozen=True, slots=True)
class TrainingSettings:
    """steps: of the whole run, by which the learning rate's schedule is set. stop: where it ends,
    None for the end. adapter_rate, full_rate: the greatest learning rates, of the low-rank adapters
    and of the parameters trained in full. look: steps between two evaluations on what is held out.
    patience: evaluations without a better one after which it stops. last_layers: None for the whole
    encoder. veil: what is done to every spectrogram.
    """

    steps: int = 420
    stop: int | None = None
    batch: int = 256
    rank: int = 16
    adapter_rate: float = 3.5e-4
    full_rate: float = 7e-5
    warm_up: int = 40
    look: int = 60
    patience: int = 3
    decay: float = 0.01
    last_layers: int | None = None
    veil: SpecAugment = NO_MASKING
    seed: int = 0


@dataclass(frozen=True, slots=True, eq=False)
class Evaluation:
    """How it stood after so many steps. learning, kept_out: nats a token; kept_out NaN: nothing was
    kept out. additions: averaged over the steps so far."""

    step: int
    learning: float
    kept_out: float
    adapter: dict[str, Float32Array]


def train(
    teacher: Teacher,
    batches: Iterator[list[Example]],
    settings: TrainingSettings,
    kept_out: Sequence[Example] = (),
    tell: Callable[[str], None] = lambda line: None,
) -> list[Evaluation]:
    """Learn from the batches; every look, the last one the latest. Stops when `kept_out` gets no
    better for `patience` looks."""
    return train_side_by_side(teacher, batches, [settings], kept_out, tell)[0]


def train_side_by_side(
    teacher: Teacher,
    batches: Iterator[list[Example]],
    courses: Sequence[TrainingSettings],
    kept_out: Sequence[Example] = (),
    tell: Callable[[str], None] = lambda line: None,
) -> list[list[Evaluation]]:
    """Several courses over the same batches, all as long as the first and looked at together; the
    looks of each. Stops when none gets better for `patience` looks."""
    first = courses[0]
    learners = [Trainer(teacher, settings) for settings in courses]
    held = [
        teacher.batch(kept_out[at : at + _AT_A_LOOK]) for at in range(0, len(kept_out), _AT_A_LOOK)
    ]
    looks = [[learner.look(held)] for learner in learners]
    last = first.stop or first.steps
    for step in range(1, last + 1):
        batch = teacher.batch(next(batches))
        for learner in learners:
            learner.step(batch)
        if step % first.look == 0 or step == last:
            for own, learner in zip(looks, learners, strict=True):
                own.append(learner.look(held))
                tell(
                    f"step {step}: learning {learner.running:.3f}, "
                    f"kept out {own[-1].kept_out:.3f} nats"
                )
            if all(_past_best(own, first.patience) for own in looks):
                break
    return looks


class Trainer:
    """Additions on their way. running: nats a token of the last batches; NaN before the first."""

    def __init__(self, teacher: Teacher, settings: TrainingSettings) -> None:
        library = torch()
        library.manual_seed(settings.seed)
        self._teacher, self._settings = teacher, settings
        self.adapter = teacher.ear.adapter(settings.rank, settings.seed, settings.last_layers)
        low_rank = [v for name, v in self.adapter.items() if name.endswith(("/A", "/B"))]
        full = [v for name, v in self.adapter.items() if not name.endswith(("/A", "/B"))]
        self._steps = library.optim.AdamW(
            [{"params": low_rank, "lr": settings.adapter_rate},
             {"params": full, "lr": settings.full_rate}],
            weight_decay=settings.decay, betas=(0.9, 0.98),
        )  # fmt: skip
        self._pace = library.optim.lr_scheduler.LambdaLR(
            self._steps, lambda step: _pace(step, settings)
        )
        self._average = {name: value.detach().clone() for name, value in self.adapter.items()}
        self._done = 0
        self.running = math.nan

    def step(self, batch: Batch) -> None:
        """Learn from one batch."""
        rng = np.random.default_rng([self._settings.seed, 5, self._done])
        loss = self._teacher.loss(batch, self.adapter, self._settings.veil, rng)
        self._steps.zero_grad(set_to_none=True)
        loss.backward()
        torch().nn.utils.clip_grad_norm_([*self.adapter.values()], 1.0)
        self._steps.step()
        self._pace.step()
        self._done += 1
        _averaged(self._average, self.adapter, self._done)
        now = float(loss.detach())
        self.running = now if math.isnan(self.running) else 0.95 * self.running + 0.05 * now

    def look(self, kept_out: Sequence[Batch]) -> Evaluation:
        """How it stands."""
        return _look(self._teacher, self._done, self.running, self._average, kept_out)


def best_evaluation(looks: Sequence[Evaluation]) -> Evaluation:
    """The one that is best on what was kept out; the last one where nothing was."""
    told = [look for look in looks if not math.isnan(look.kept_out)]
    return min(told, key=lambda look: look.kept_out) if told else looks[-1]


def _past_best(looks: Sequence[Evaluation], patience: int) -> bool:
    if math.isnan(looks[-1].kept_out):
        return False
    return looks[-1].step - best_evaluation(looks).step >= patience * (
        looks[-1].step - looks[-2].step
    )


def _pace(step: int, settings: TrainingSettings) -> float:
    """Warming up, then half a cosine to nothing."""
    done = min(1.0, step / settings.steps)
    return min(1.0, (step + 1) / settings.warm_up) * 0.5 * (1 + math.cos(math.pi * done))


def _averaged(average: dict[str, Tensor], now: dict[str, Any], step: int) -> None:
    """The mean of the later steps: the share of the past grows with their number."""
    keep = min(0.995, step / (step + 9))
    with torch().no_grad():
        for name, value in now.items():
            average[name].mul_(keep).add_(value, alpha=1 - keep)


def _look(
    teacher: Teacher,
    step: int,
    learning: float,
    average: dict[str, Tensor],
    kept_out: Sequence[Batch],
) -> Evaluation:
    with torch().no_grad():
        losses = [(float(teacher.loss(part, average)), len(part.examples)) for part in kept_out]
    total = sum(count for _, count in losses)
    mean = sum(loss * count for loss, count in losses) / total if total else math.nan
    told = {name: value.detach().cpu().numpy().copy() for name, value in average.items()}
    return Evaluation(step, learning, mean, told)


def batches(examples: Examples, count: int, processes: int) -> Generator[list[Example], None, None]:
    """Batches 0, 1, 2... of so many, made by that many processes; in this one for 0."""
    if processes == 0:
        number = 0
        while True:
            yield examples.batch(number, count)
            number += 1
    # Forked: the sounds are shared, not sent.
    fork = get_context("fork")
    with ProcessPoolExecutor(processes, fork, initializer=_take, initargs=(examples,)) as pool:
        waiting: deque[Future[list[Example]]] = deque()
        number = 0
        while True:
            while len(waiting) < processes + 4:
                waiting.append(pool.submit(_made, number, count))
                number += 1
            yield waiting.popleft().result()


_examples: Examples | None = None


def _take(examples: Examples) -> None:
    global _examples
    _examples = examples


def _made(number: int, count: int) -> list[Example]:
    assert _examples is not None
    made = _examples.batch(number, count)
    # Half the figures, half the way: what is lost is 60 dB below the sound.
    return [replace(one, sound=one.sound.astype(np.float16)) for one in made]
