"""The loop that learns: examples in, small additions to the encoder out, looked at as it goes.

Knows torch and examples; knows no recordings and no files. The same seed on the same kind of
machine gives the same additions but for the last figures of its sums.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Callable, Generator, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context
from typing import Any

from assistant.hearing.tune.examples import Example, Examples
from assistant.hearing.tune.teacher import Teacher
from assistant.hearing.tune.torch_ear import Tensor, torch
from assistant.hearing.whisper_weights import Array


@dataclass(frozen=True, slots=True)
class Settings:
    """steps: of the whole course, by which the pace is set. stop: where it ends, None for the end.
    thin, rest: the greatest steps of the
    thin products and of the plain additions. look: steps between two looks at what is kept out.
    patience: looks without a better one after which it stops. smoothing: share of each target that
    is spread over all tokens. last_layers: None for the whole encoder.
    """

    steps: int = 420
    stop: int | None = None
    batch: int = 256
    rank: int = 16
    thin: float = 3.5e-4
    rest: float = 7e-5
    warm_up: int = 40
    look: int = 60
    patience: int = 3
    smoothing: float = 0.0
    decay: float = 0.01
    last_layers: int | None = None
    seed: int = 0


@dataclass(frozen=True, slots=True, eq=False)
class Look:
    """How it stood after so many steps. learning, kept_out: nats a token; kept_out NaN: nothing was
    kept out. additions: averaged over the steps so far."""

    step: int
    learning: float
    kept_out: float
    additions: dict[str, Array]


def learn(
    teacher: Teacher,
    batches: Iterator[list[Example]],
    settings: Settings,
    kept_out: Sequence[Example] = (),
    tell: Callable[[str], None] = lambda line: None,
) -> list[Look]:
    """Learn from the batches; every look, the last one the latest. Stops when `kept_out` gets no
    better for `patience` looks."""
    library = torch()
    library.manual_seed(settings.seed)
    additions = teacher.ear.additions(settings.rank, settings.seed, settings.last_layers)
    thin = [v for name, v in additions.items() if name.endswith(("/A", "/B"))]
    rest = [v for name, v in additions.items() if not name.endswith(("/A", "/B"))]
    steps = library.optim.AdamW(
        [{"params": thin, "lr": settings.thin}, {"params": rest, "lr": settings.rest}],
        weight_decay=settings.decay, betas=(0.9, 0.98),
    )  # fmt: skip
    pace = library.optim.lr_scheduler.LambdaLR(steps, lambda step: _pace(step, settings))
    average = {name: value.detach().clone() for name, value in additions.items()}
    looks: list[Look] = [_look(teacher, 0, math.nan, average, kept_out)]
    running = math.nan
    last = settings.stop or settings.steps
    for step in range(1, last + 1):
        loss = teacher.loss(next(batches), additions, settings.smoothing)
        steps.zero_grad(set_to_none=True)
        loss.backward()
        library.nn.utils.clip_grad_norm_([*additions.values()], 1.0)
        steps.step()
        pace.step()
        _averaged(average, additions, step)
        now = float(loss.detach())
        running = now if math.isnan(running) else 0.95 * running + 0.05 * now
        if step % settings.look == 0 or step == last:
            looks.append(_look(teacher, step, running, average, kept_out))
            tell(f"step {step}: learning {running:.3f}, kept out {looks[-1].kept_out:.3f} nats")
            if _past_best(looks, settings.patience):
                break
    return looks


def best_look(looks: Sequence[Look]) -> Look:
    """The one that is best on what was kept out; the last one where nothing was."""
    told = [look for look in looks if not math.isnan(look.kept_out)]
    return min(told, key=lambda look: look.kept_out) if told else looks[-1]


def _past_best(looks: Sequence[Look], patience: int) -> bool:
    if math.isnan(looks[-1].kept_out):
        return False
    return looks[-1].step - best_look(looks).step >= patience * (looks[-1].step - looks[-2].step)


def _pace(step: int, settings: Settings) -> float:
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
    kept_out: Sequence[Example],
) -> Look:
    losses = []
    with torch().no_grad():
        for at in range(0, len(kept_out), 64):
            part = kept_out[at : at + 64]
            losses.append((float(teacher.loss(part, average)), len(part)))
    total = sum(count for _, count in losses)
    mean = sum(loss * count for loss, count in losses) / total if total else math.nan
    told = {name: value.detach().cpu().numpy().copy() for name, value in average.items()}
    return Look(step, learning, mean, told)


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
    return _examples.batch(number, count)
