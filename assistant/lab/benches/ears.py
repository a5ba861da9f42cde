"""Recognisers to set beside each other, and trials spread over processes. Knows adapters' files."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cache
from multiprocessing import get_context
from pathlib import Path
from typing import TypeVar

from assistant.recogniser.constrained_whisper import ConstrainedWhisper, load_model


@dataclass(frozen=True, slots=True)
class Ear:
    """A recogniser to measure."""

    name: str
    adapter: Path | None
    """None: the model as it came."""


def recogniser_of(ear: Ear) -> ConstrainedWhisper:
    """It, loaded; kept for the next time."""
    return _loaded(ear.adapter)


@cache
def _loaded(adapter: Path | None) -> ConstrainedWhisper:
    return ConstrainedWhisper(load_model(adapters=adapter))


Job = TypeVar("Job")
Result = TypeVar("Result")


def in_processes(
    work: Callable[[Job], Result], jobs: Sequence[Job], processes: int
) -> Iterator[tuple[Job, Result]]:
    """Each job with its result, in order; in this process where one is enough."""
    if processes < 2:
        for job in jobs:
            yield job, work(job)
        return
    with ProcessPoolExecutor(processes, mp_context=get_context("spawn")) as pool:
        yield from zip(jobs, pool.map(work, jobs), strict=True)
