"""What a recogniser costs: seconds on one core and on two, and memory (`footplate bench hear`).

Each is measured in a process of its own, so that nothing else counts. Times need an idle machine.
"""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from itertools import islice
from time import monotonic, perf_counter, process_time, sleep
from typing import ParamSpec, TypeVar

from assistant.lab.benches.table import Column, ResultTable, median_and_95
from assistant.lab.benches.talk_trials import (
    SENTENCES,
    VOICES,
    DecisionTrial,
    Utterances,
    sentence_trials,
)
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Recogniser
from assistant.recogniser.pipeline import RecognitionPipeline
from assistant.simulator import voices
from assistant.simulator.noise import Surroundings
from assistant.understanding.context import Context
from assistant.understanding.decide import decide

SNR_DB = 10.0
MB = 1e6
MEMORY_SAMPLES = 6  # of the memory, besides the two at the beginning
P = ParamSpec("P")
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Times:
    """What a number of utterances took, each from its end, once detected, to the decision."""

    seconds: tuple[float, ...]  # by the clock
    cpu_s: tuple[float, ...]  # of the processor, which other work on the machine hardly changes
    detector_share: float  # of one core, taken by the detector while the sound lasts

    def row(self, name: str) -> str:
        """Its row of the table."""
        medians = (*median_and_95(self.seconds), *median_and_95(self.cpu_s))
        return _LATENCIES.row(name, len(self.seconds), *medians, self.detector_share)


_LATENCIES = ResultTable(
    20,
    Column("n", 5),
    *(Column(name, 9, ".2f") for name in ("med s", "95% s", "cpu med", "cpu 95%")),
    Column("detector", 11, ".1%"),
)
_MEMORY = ResultTable(28, Column("MB", 8, ".0f"))
_GROWTH = ResultTable(28, Column("MB", 8, "+.1f"))


def cost_trials(count: int) -> Iterator[DecisionTrial]:
    """Product sentences over the engine's mixed noise at 10 dB, spread over all the voices."""
    where = Surroundings(SNR_DB)
    share = max(1, len(VOICES) * len(SENTENCES) // count)
    every = (
        trial
        for seed in range(5, 5 + count)
        for trial in sentence_trials(SENTENCES, where, share, seed)
    )
    return islice(every, count)


Make = Callable[[], Recogniser]
"""Loads a recogniser; picklable, as it runs in another process."""


def measure_times(make: Make, cores: int | None, count: int, utterances: Utterances) -> Times:
    """The times of a recogniser; cores: pin this process to so many (None: as it is)."""
    if cores is not None:
        os.sched_setaffinity(0, sorted(os.sched_getaffinity(0))[:cores])
    pipeline = RecognitionPipeline(make())
    for expected in {expected for _, expected in SENTENCES}:
        pipeline.prepare(expected)
        pipeline.warm(expected)
    seconds, cpu_s, detector_s, sound_s = [], [], 0.0, 0.0
    for number, trial in enumerate(cost_trials(count + 1)):
        begin = process_time()
        detected = utterances(trial.sound)
        if number:  # the first one loads the libraries
            detector_s += process_time() - begin
            sound_s += len(trial.sound) / SPEECH_RATE_HZ
        for utterance in detected:
            begin, cpu_begin = perf_counter(), process_time()
            decide(pipeline.heard(utterance, trial.expected, 0.0), Context(trial.expected))
            if number:
                seconds.append(perf_counter() - begin)
                cpu_s.append(process_time() - cpu_begin)
    share = detector_s / max(sound_s, 1e-9)
    return Times(tuple(seconds), tuple(cpu_s), share)


def resident_bytes() -> int:
    """The resident memory of this process; where the system does not tell, its peak."""
    try:
        with open("/proc/self/statm", encoding="ascii") as statm:  # noqa: PTH123
            return int(statm.read().split()[1]) * os.sysconf("SC_PAGE_SIZE")
    except OSError:
        import resource

        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        return peak if os.uname().sysname == "Darwin" else peak * 1024


def measure_memory(
    make: Make, count: int, utterances: Utterances, hours: float = 0.0
) -> list[tuple[str, int]]:
    """Memory at the beginning, with the recogniser loaded, and after every sixth of the utterances.

    hours: by the clock, over which the utterances are spread; 0: one straight after the other.
    """
    samples = [("before an ear is loaded", resident_bytes())]
    pipeline = RecognitionPipeline(make())
    samples.append(("with the ear", resident_bytes()))
    every = max(1, count // MEMORY_SAMPLES)
    begin = monotonic()
    for number, trial in enumerate(cost_trials(count), start=1):
        sleep(max(0.0, begin + hours * 3600.0 * number / count - monotonic()))
        for utterance in utterances(trial.sound):
            decide(pipeline.heard(utterance, trial.expected, 0.0), Context(trial.expected))
        voices.speak.cache_clear()  # the synthesised speech must not count
        if number % every == 0:
            samples.append((f"after {number} utterances", resident_bytes()))
    return samples


def in_own_process(work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
    """Run it in a process of its own."""
    spawning = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(1, mp_context=spawning) as pool:
        return pool.submit(work, *args, **kwargs).result()


def latency_lines(name: str, make: Make, count: int, utterances: Utterances) -> Iterator[str]:
    """A row for one core and one for two, as far as this machine has them and can pin to them."""
    yield f"{name}: seconds from the end of speech, once it is found, to the decision; 10 dB of mix"
    yield _LATENCIES.header()
    if not hasattr(os, "sched_setaffinity"):
        yield in_own_process(measure_times, make, None, count, utterances).row("all cores")
        yield "this system cannot keep a process to some of its cores: one core was not measured"
        return
    available = len(os.sched_getaffinity(0))
    for cores in (1, 2):
        if cores <= available:
            name_of_row = "one core" if cores == 1 else "two cores"
            yield in_own_process(measure_times, make, cores, count, utterances).row(name_of_row)
    if available < 2:
        yield "there is but one core here: two were not measured"


def memory_lines(
    name: str, make: Make, count: int, utterances: Utterances, hours: float = 0.0
) -> Iterator[str]:
    """The memory, and its growth in the second half. hours: see `measure_memory`."""
    samples = in_own_process(measure_memory, make, count, utterances, hours)
    yield f"{name}: memory [MB]{f', in {hours:g} h' if hours else ''}"
    for when, size in samples:
        yield _MEMORY.row(when, size / MB)
    sizes = [size for _, size in samples[2:]]
    if len(sizes) > 1:
        growth = (sizes[-1] - sizes[(len(sizes) - 1) // 2]) / MB
        yield _GROWTH.row("in the second half", growth)
