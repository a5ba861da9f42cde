"""How long until a new question's grammar is ready in the ear; what memory the forms of lists cost.

Each in a process of its own, so that nothing is ready before. Times want an idle machine.
"""

from __future__ import annotations

import gc
import tracemalloc
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import count, pairwise
from time import perf_counter

import numpy as np

from assistant.dialogue.session import Session
from assistant.dialogue.session_config import SessionConfig
from assistant.grammar.phrases import kinds_of_question
from assistant.lab.benches.hear_cost import MB, Make, in_own_process
from assistant.lab.benches.table import Column, ResultTable
from assistant.messages import Effect, Event, Expected, ExpectedKind
from assistant.recogniser.base import Sound
from assistant.recogniser.pipeline import RecognitionPipeline
from assistant.simulator import practice
from assistant.simulator.scene import NoWaiting
from assistant.simulator.sound_rig import TypedRig

CHANGES = 200
MEMORY_KINDS: tuple[ExpectedKind, ...] = ("any", "pressure", "water")
_TIMES = ResultTable(
    40, Column("n", 6), *(Column(name, 9, ".1f") for name in ("med ms", "95% ms", "most ms"))
)
_MEMORY = ResultTable(40, Column("MB", 8, ".2f"))
LEGEND = (
    "from a new question until its grammar is compiled in the ear, in the order of whole practices "
    "(words as if typed), the first question apart, once a question of each kind was compiled, as "
    "a live run does when it has begun; the spellings of a grammar are laid out while "
    "they are searched, not before; warmed: with what follows it, which only makes the first "
    "utterance quicker to answer"
)
MEMORY_LEGEND = (
    "what the forms of all lists add while nothing, pressure and water are asked in turn, by what "
    "Python and NumPy hold (tracemalloc), not by resident memory"
)


@dataclass(frozen=True, slots=True)
class LayerMemory:
    """What the shared layer adds [byte]."""

    compiled: int
    heard: int
    """With as many spellings laid out as the sounds that were heard made necessary."""


def practice_questions(config: SessionConfig, changes: int = CHANGES) -> list[Expected]:
    """What was listened for in whole practices, one after the other, until it changed so often."""
    questions: list[Expected] = []
    for seed in count(1):
        session = Session(config)

        def process(event: Event, session: Session = session) -> list[Effect]:
            effects = session.handle(event)
            if not questions or questions[-1] != session.expected:
                questions.append(session.expected)
            return effects

        def expected(session: Session = session) -> Expected:
            return session.expected

        cast = practice.Cast(config.engine, config.lists, TypedRig(), NoWaiting(), seed)
        practice.play(cast, process, expected, lambda at, who, what: None)
        if len(questions) > changes:
            break
    return questions[: changes + 1]


def change_seconds(make: Make, questions: Sequence[Expected]) -> tuple[list[float], list[float]]:
    """How long an ear that was just loaded took for each: compiled, and warmed too [s]."""
    pipeline = RecognitionPipeline(make())
    for kind in kinds_of_question(questions[0]):
        pipeline.prepare(kind)
    compiled, warmed = [], []
    for expected in questions:
        begin = perf_counter()
        pipeline.prepare(expected)
        compiled.append(perf_counter() - begin)
        pipeline.warm(expected)
        warmed.append(perf_counter() - begin)
    return compiled, warmed


def layer_memory(make: Make, with_forms: Expected, sounds: Sequence[Sound]) -> LayerMemory:
    """What is held with the forms of all lists, less what was held without.

    Without them everything is heard twice before, so that what fills by itself is full.
    """
    tracemalloc.start()
    pipeline = RecognitionPipeline(make())
    bare = [Expected(kind) for kind in MEMORY_KINDS]
    shared = [replace(each, elsewhere=with_forms.elsewhere) for each in bare]
    _heard_all(pipeline, bare, sounds)
    _heard_all(pipeline, bare, sounds)
    before = _held()
    for expected in shared:
        pipeline.prepare(expected)
    compiled = _held()
    _heard_all(pipeline, shared, sounds)
    heard = _held()
    tracemalloc.stop()
    return LayerMemory(compiled - before, heard - before)


def _held() -> int:
    """What is held now [byte]."""
    gc.collect()
    return tracemalloc.get_traced_memory()[0]


def _heard_all(
    pipeline: RecognitionPipeline, questions: Sequence[Expected], sounds: Sequence[Sound]
) -> None:
    for expected in questions:
        pipeline.prepare(expected)
        for sound in sounds:
            pipeline.heard(sound, expected, 0.0)


def bench_lines(
    make: Make, questions: Sequence[Expected], sounds: Sequence[Sound]
) -> Iterator[str]:
    """Times of the changes among these questions, then the memory. make: picklable."""
    yield f"questions: {len(questions) - 1} changes among {len(set(questions))} questions"
    yield LEGEND
    yield _TIMES.header()
    without = [replace(expected, elsewhere=()) for expected in questions]
    for name, asked in (("forms of all lists", questions), ("without them", without)):
        seconds, warmed = in_own_process(change_seconds, make, asked)
        yield _row(f"{name}: the first question", seconds[:1])
        yield _row(f"{name}: all changes", seconds[1:])
        yield _row(f"{name}: all, warmed", warmed[1:])
        kinds = [new.kind for _, new in pairwise(asked)]
        for kind in dict.fromkeys(kinds):
            of_kind = [s for s, its in zip(seconds[1:], kinds, strict=True) if its == kind]
            yield _row(f"{name}: {kind}", of_kind)
    memory = in_own_process(layer_memory, make, questions[0], sounds)
    yield MEMORY_LEGEND
    yield _MEMORY.header()
    yield _MEMORY.row("compiled", memory.compiled / MB)
    yield _MEMORY.row(f"after {len(MEMORY_KINDS) * len(sounds)} utterances", memory.heard / MB)


def _row(name: str, seconds: Sequence[float]) -> str:
    median, late, most = np.quantile([1000 * each for each in seconds], [0.5, 0.95, 1.0])
    return _TIMES.row(name, len(seconds), float(median), float(late), float(most))
