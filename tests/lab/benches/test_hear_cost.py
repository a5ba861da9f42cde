"""The bench of an ear's cost: processes of their own, cores, rows, memory."""

from __future__ import annotations

import mmap
import os
import time

import pytest

from assistant.lab.benches.hear_cost import (
    LOOKS,
    Times,
    alone,
    held,
    latency,
    memory,
    resident_bytes,
    timed,
)
from assistant.recogniser.base import Grammar, NBest, Sound
from assistant.simulator.voices import SynthesiserVoice

COUNT = 6


class Deaf:
    """Hears nothing, at once."""

    name = "deaf"

    def prepare(self, grammar: Grammar) -> None: ...

    def hear(self, sound: Sound, grammar: Grammar) -> NBest:
        return NBest(self.name, ())


def whole(sound: Sound) -> list[Sound]:
    return [sound]


def cores_left(count: int) -> int:
    os.sched_setaffinity(0, sorted(os.sched_getaffinity(0))[:count])
    return len(os.sched_getaffinity(0))


def test_a_row_of_times() -> None:
    row = Times((0.1, 0.2, 0.3), (0.1, 0.1, 0.1), 0.0123).line("one core").split()
    assert row == ["one", "core", "3", "0.20", "0.29", "0.10", "0.10", "1.2%"]


@pytest.mark.skipif(not hasattr(os, "sched_setaffinity"), reason="cores cannot be chosen here")
def test_a_process_of_its_own_leaves_this_one_as_it_is() -> None:
    before = os.sched_getaffinity(0)
    assert alone(cores_left, 1) == 1
    assert alone(os.getpid) != os.getpid()
    assert os.sched_getaffinity(0) == before


def test_memory_is_told_in_bytes() -> None:
    before = resident_bytes()
    assert 10e6 < before < 100e9
    with mmap.mmap(-1, 50_000_000) as kept:  # pages of its own: others may be lying free
        kept.write(b"x" * len(kept))
        assert resident_bytes() - before > 0.8 * len(kept)


@pytest.mark.sound
def test_every_utterance_is_timed_and_the_first_left_out(voice: SynthesiserVoice) -> None:
    times = timed(Deaf, None, COUNT, whole)
    assert len(times.seconds) == COUNT
    assert 0.0 < max(times.seconds) < 0.1
    assert len(times.worked_s) == COUNT
    assert 0.0 <= times.detector_share < 0.1


@pytest.mark.sound
def test_the_memory_of_an_ear_that_keeps_nothing_is_looked_at_on_the_way(
    voice: SynthesiserVoice,
) -> None:
    looks = held(Deaf, 12, whole)
    assert [when for when, _ in looks[:2]] == ["before an ear is loaded", "with the ear"]
    assert [when for when, _ in looks[2:]] == [f"after {n} utterances" for n in range(2, 13, 2)]
    assert len(looks) == 2 + LOOKS


@pytest.mark.sound
def test_utterances_may_be_spread_over_some_time(voice: SynthesiserVoice) -> None:
    begun = time.monotonic()
    held(Deaf, 2, whole, hours=2.0 / 3600.0)
    assert time.monotonic() - begun > 2.0


@pytest.mark.sound
def test_the_tables(voice: SynthesiserVoice) -> None:
    rows = [line.split() for line in latency("deaf", Deaf, COUNT, whole)]
    assert rows[0][0] == "deaf:"
    assert rows[2][-6] == str(COUNT)
    told = list(memory("deaf", Deaf, COUNT, whole))
    assert told[0] == "deaf: memory [MB]"
    assert told[-1].startswith("in the second half")
    assert abs(float(told[-1].split()[-1])) < 50.0
