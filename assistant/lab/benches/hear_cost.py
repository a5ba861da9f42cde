"""What `footplate bench hear` measures of an ear's cost: seconds on one core and on two; memory.

Each in a process of its own, so that nothing else of ours is counted. Times need a quiet machine.
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

import numpy as np

from assistant.lab.benches.talk_decisions import SENTENCES, VOICES, DecisionTrial, Utterances, said
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Recogniser
from assistant.recogniser.pipeline import RecognitionPipeline
from assistant.simulator import voices
from assistant.simulator.noise import Surroundings
from assistant.understanding.decide import decide

SNR_DB = 10.0
MB = 1e6
LOOKS = 6  # at the memory, besides those at its beginning
P = ParamSpec("P")
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Times:
    """Of so many utterances: seconds from the end of each, once it is found, to its decision.

    worked_s: how long the processor worked on each, which others on the machine hardly change.
    detector_share: of one core, taken by the detector while the sound lasts.
    """

    seconds: tuple[float, ...]
    worked_s: tuple[float, ...]
    detector_share: float

    def line(self, name: str) -> str:
        """A row: how many, the median, 95 %."""
        columns = (*_both(self.seconds), *_both(self.worked_s))
        shown = "".join(f"{seconds:>9.2f}" for seconds in columns)
        return f"{name:<20}{len(self.seconds):>5}{shown}{100 * self.detector_share:>10.1f}%"


def _both(seconds: tuple[float, ...]) -> tuple[float, float]:
    """Median and 95 %."""
    median, most = np.quantile(seconds, [0.5, 0.95])
    return float(median), float(most)


def trials(count: int) -> Iterator[DecisionTrial]:
    """Product sentences in every voice beside 10 dB of engine mix, spread over voices and words."""
    where = Surroundings(SNR_DB)
    share = max(1, len(VOICES) * len(SENTENCES) // count)
    made = (trial for seed in range(5, 5 + count) for trial in said(SENTENCES, where, share, seed))
    return islice(made, count)


Make = Callable[[], Recogniser]
"""Loads an ear; must be known by name to another process."""


def timed(make: Make, cores: int | None, count: int, utterances: Utterances) -> Times:
    """The times of an ear; cores: keep this process to so many (None: as it is)."""
    if cores is not None:
        os.sched_setaffinity(0, sorted(os.sched_getaffinity(0))[:cores])
    hearer = RecognitionPipeline(make())
    for expected in {expected for _, expected in SENTENCES}:
        hearer.prepare(expected)
    seconds, worked_s, detecting_s, sound_s = [], [], 0.0, 0.0
    for number, trial in enumerate(trials(count + 1)):
        begin = process_time()
        found = utterances(trial.sound)
        if number:  # the first one wakes the libraries
            detecting_s += process_time() - begin
            sound_s += len(trial.sound) / SPEECH_RATE_HZ
        for one in found:
            begin, worked = perf_counter(), process_time()
            decide(hearer.heard(one, trial.expected, 0.0), trial.expected)
            if number:
                seconds.append(perf_counter() - begin)
                worked_s.append(process_time() - worked)
    share = detecting_s / max(sound_s, 1e-9)
    return Times(tuple(seconds), tuple(worked_s), share)


def resident_bytes() -> int:
    """What this process holds in memory now; where that cannot be asked, the most it ever held."""
    try:
        with open("/proc/self/statm", encoding="ascii") as told:  # noqa: PTH123
            return int(told.read().split()[1]) * os.sysconf("SC_PAGE_SIZE")
    except OSError:
        import resource

        most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        return most if os.uname().sysname == "Darwin" else most * 1024


def held(
    make: Make, count: int, utterances: Utterances, hours: float = 0.0
) -> list[tuple[str, int]]:
    """Memory at the beginning, with the ear loaded, and after every sixth of the utterances.

    hours: by the clock, over which the utterances are spread; without: one after the other.
    """
    looks = [("before an ear is loaded", resident_bytes())]
    hearer = RecognitionPipeline(make())
    looks.append(("with the ear", resident_bytes()))
    every = max(1, count // LOOKS)
    begun = monotonic()
    for number, trial in enumerate(trials(count), start=1):
        sleep(max(0.0, begun + hours * 3600.0 * number / count - monotonic()))
        for one in utterances(trial.sound):
            decide(hearer.heard(one, trial.expected, 0.0), trial.expected)
        voices.speak.cache_clear()  # what was said is not the ear's memory
        if number % every == 0:
            looks.append((f"after {number} utterances", resident_bytes()))
    return looks


def alone(work: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
    """Do it in a process of its own."""
    spawning = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(1, mp_context=spawning) as pool:
        return pool.submit(work, *args, **kwargs).result()


def latency(name: str, make: Make, count: int, utterances: Utterances) -> Iterator[str]:
    """A row for one core and one for two, as far as this machine has them and lets us choose."""
    yield f"{name}: seconds from the end of speech, once it is found, to the decision; 10 dB of mix"
    yield f"{'':<20}{'n':>5}{'med s':>9}{'95% s':>9}{'cpu med':>9}{'cpu 95%':>9}{'detector':>11}"
    if not hasattr(os, "sched_setaffinity"):
        yield alone(timed, make, None, count, utterances).line("all cores")
        yield "this system cannot keep a process to some of its cores: one core was not measured"
        return
    there = len(os.sched_getaffinity(0))
    for cores in (1, 2):
        if cores <= there:
            told = "one core" if cores == 1 else "two cores"
            yield alone(timed, make, cores, count, utterances).line(told)
    if there < 2:
        yield "there is but one core here: two were not measured"


def memory(
    name: str, make: Make, count: int, utterances: Utterances, hours: float = 0.0
) -> Iterator[str]:
    """What is held in memory, and by how much it grew in the second half. hours: see `held`."""
    looks = alone(held, make, count, utterances, hours)
    yield f"{name}: memory [MB]{f', in {hours:g} h' if hours else ''}"
    for when, size in looks:
        yield f"{when:<28}{size / MB:>8.0f}"
    sizes = [size for _, size in looks[2:]]
    if len(sizes) > 1:
        grown = (sizes[-1] - sizes[(len(sizes) - 1) // 2]) / MB
        yield f"{'in the second half':<28}{grown:>+8.1f}"
