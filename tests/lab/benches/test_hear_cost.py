"""The cost of a recogniser: processes of their own, cores, rows, memory."""

from __future__ import annotations

import mmap
import os
import time

import pytest
from deaf_recogniser import Deaf, cores_left, whole

from assistant.lab.benches.hear_cost import (
    MEMORY_SAMPLES,
    Times,
    in_own_process,
    latency_lines,
    measure_memory,
    measure_times,
    memory_lines,
    resident_bytes,
)
from assistant.simulator.voices import SynthesiserVoice

# What is measured is time and memory.
pytestmark = pytest.mark.real

COUNT = 6


def test_a_row_of_times() -> None:
    row = Times((0.1, 0.2, 0.3), (0.1, 0.1, 0.1), 0.0123).row("one core").split()
    assert row == ["one", "core", "3", "0.20", "0.29", "0.10", "0.10", "1.2%"]


@pytest.mark.skipif(not hasattr(os, "sched_setaffinity"), reason="cores cannot be chosen here")
def test_a_process_of_its_own_leaves_this_one_as_it_is() -> None:
    before = os.sched_getaffinity(0)
    assert in_own_process(cores_left, 1) == 1
    assert in_own_process(os.getpid) != os.getpid()
    assert os.sched_getaffinity(0) == before


def test_memory_is_given_in_bytes() -> None:
    before = resident_bytes()
    assert 10e6 < before < 100e9
    with mmap.mmap(-1, 50_000_000) as pages:  # pages of its own: others may be lying free
        pages.write(b"x" * len(pages))
        assert resident_bytes() - before > 0.8 * len(pages)


@pytest.mark.sound
def test_every_utterance_is_timed_and_the_first_left_out(voice: SynthesiserVoice) -> None:
    times = measure_times(Deaf, None, COUNT, whole)
    assert len(times.seconds) == COUNT
    assert min(times.seconds) > 0.0
    assert len(times.cpu_s) == COUNT
    assert 0.0 < max(times.cpu_s) < 1.0  # of the processor: a busy machine does not lengthen it
    assert 0.0 <= times.detector_share < 0.5


@pytest.mark.sound
def test_the_memory_of_a_recogniser_that_keeps_nothing_is_looked_at_on_the_way(
    voice: SynthesiserVoice,
) -> None:
    samples = measure_memory(Deaf, 12, whole)
    assert [when for when, _ in samples[:2]] == ["before an ear is loaded", "with the ear"]
    assert [when for when, _ in samples[2:]] == [f"after {n} utterances" for n in range(2, 13, 2)]
    assert len(samples) == 2 + MEMORY_SAMPLES


@pytest.mark.sound
def test_utterances_may_be_spread_over_some_time(voice: SynthesiserVoice) -> None:
    begin = time.monotonic()
    measure_memory(Deaf, 2, whole, hours=2.0 / 3600.0)
    assert time.monotonic() - begin > 2.0


@pytest.mark.sound
def test_the_tables(voice: SynthesiserVoice) -> None:
    rows = [line.split() for line in latency_lines("deaf", Deaf, COUNT, whole)]
    assert rows[0][0] == "deaf:"
    assert rows[2][-6] == str(COUNT)
    lines = list(memory_lines("deaf", Deaf, COUNT, whole))
    assert lines[0] == "deaf: memory [MB]"
    assert lines[-1].startswith("in the second half")
    assert abs(float(lines[-1].split()[-1])) < 50.0
