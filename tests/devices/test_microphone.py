"""A live microphone with its threads, on a source in memory."""

from __future__ import annotations

import threading

import numpy as np
import pytest

from assistant.devices.clock import FakeClock
from assistant.devices.inbox import Inbox
from assistant.devices.microphone import (
    CHECK_S,
    FAULT_OVER_S,
    MOST_BLOCKS,
    BlockResampler,
    FakeSource,
    FileSource,
    Microphone,
    OnBlock,
    trouble_with,
)
from assistant.devices.sound import BLOCK, Clip, Samples
from assistant.errors import WorldFailedError
from assistant.messages import SPEECH_RATE_HZ, DeviceBack, DeviceLost, Event


def noise(seconds: float, rate_hz: int = SPEECH_RATE_HZ) -> Samples:
    return np.random.default_rng(1).normal(0, 0.1, int(seconds * rate_hz)).astype(np.float32)


class Blocks:
    """Takes blocks from the listening thread; a test waits until there are enough."""

    def __init__(self) -> None:
        self.blocks: list[Samples] = []
        self._came = threading.Semaphore(0)

    def feed(self, block: Samples, at_s: float) -> None:
        self.blocks.append(block)
        self._came.release()

    def wait(self, count: int) -> None:
        for _ in range(count):
            assert self._came.acquire(timeout=5.0), "it never came"


def test_a_microphone_that_was_told_lost_before_is_told_back_with_its_first_block() -> None:
    clock = FakeClock()
    inbox, source = Inbox(clock), FakeSource()
    microphone = Microphone(source, lambda block, at_s: None, inbox, clock, lost=True)
    microphone.open()
    opened = microphone._opening
    microphone.check()
    assert inbox.get(0) is None
    source.speak(noise(0.1))
    microphone.check()
    assert inbox.get(0) == DeviceBack(0.0, "microphone")
    microphone.check()
    assert inbox.get(0) is None
    assert microphone._opening == opened, "it was opened a second time for nothing"


@pytest.mark.parametrize("rate_hz", [16_000, 44_100, 48_000, 8_000])
def test_blocks_reach_the_ear_at_its_own_rate(rate_hz: int) -> None:
    heard = Blocks()
    clock = FakeClock()
    source = FakeSource(rate_hz)
    microphone = Microphone(source, heard.feed, Inbox(clock), clock)
    microphone.start()
    t = np.arange(2 * rate_hz) / rate_hz
    source.speak((0.5 * np.sin(2 * np.pi * 500 * t)).astype(np.float32))
    heard.wait(58)
    microphone.close()
    assert {len(block) for block in heard.blocks} == {BLOCK}
    sound = np.concatenate(heard.blocks)[:SPEECH_RATE_HZ]
    spectrum = np.abs(np.fft.rfft(sound))
    assert np.argmax(spectrum) * SPEECH_RATE_HZ / len(sound) == pytest.approx(500, abs=3)


def test_resampling_in_pieces_equals_resampling_at_once() -> None:
    import soxr

    whole = noise(1.0, 48_000)
    reshaper = BlockResampler(48_000)
    pieces = [b for part in np.array_split(whole, 37) for b in reshaper.feed(part.tobytes())]
    got = np.concatenate(pieces)
    at_once = soxr.resample(whole, 48_000, SPEECH_RATE_HZ)[: len(got)]
    assert len(got) > 0.9 * SPEECH_RATE_HZ
    assert got == pytest.approx(at_once, abs=2e-3)


def test_a_microphone_that_cannot_be_opened_says_so_at_once() -> None:
    clock = FakeClock()
    source = FakeSource()
    source.plugged = False
    with pytest.raises(WorldFailedError, match="no microphone"):
        Microphone(source, lambda block, at_s: None, Inbox(clock), clock).start()


def test_whether_a_microphone_can_be_used_is_asked_without_keeping_it() -> None:
    source = FakeSource()
    assert trouble_with(source) == ""
    source.plugged = False
    assert trouble_with(source) == "there is no microphone on this machine"


class SlowSource(FakeSource):
    """Its first block comes `first_s` after it was opened: an idle sound server takes its time."""

    def __init__(self, clock: FakeClock, first_s: float = 0.0) -> None:
        super().__init__()
        self._clock = clock
        self._first_s = first_s
        self._opened_s = 0.0
        self.openings = 0

    def open(self, on_block: OnBlock) -> int:
        rate_hz = super().open(on_block)
        self._opened_s = self._clock.now()
        self.openings += 1
        return rate_hz

    def hum(self) -> None:
        if self.plugged and self._clock.now() - self._opened_s >= self._first_s:
            self.speak(noise(0.05))


class Watched:
    """A microphone without its threads: checked every 0.2 s of a clock that the test moves."""

    def __init__(self, first_s: float = 0.0) -> None:
        self.clock = FakeClock()
        self.inbox = Inbox(self.clock)
        self.source = SlowSource(self.clock, first_s)
        self.microphone = Microphone(self.source, lambda block, at_s: None, self.inbox, self.clock)
        self.microphone.open()

    def run(self, seconds: float) -> list[Event]:
        """What was posted in that time, in which the source hums where it can."""
        end_s = self.clock.now() + seconds
        while self.clock.now() < end_s:
            self.source.hum()
            self.clock.sleep(CHECK_S)
            self.microphone.check()
        events: list[Event] = []
        while (event := self.inbox.get(0)) is not None:
            events.append(event)
        return events


def test_unplugging_is_told_within_two_seconds_and_mended_within_five() -> None:
    watched = Watched()
    assert watched.run(10.0) == []
    watched.source.plugged = False
    pulled_s = watched.clock.now()
    (lost,) = watched.run(5.0)
    assert isinstance(lost, DeviceLost)
    assert lost.at - pulled_s <= 2.0
    watched.source.plugged = True
    mended_s = watched.clock.now()
    (back,) = watched.run(10.0)
    assert isinstance(back, DeviceBack)
    assert back.at - mended_s <= 5.0


def test_a_reopened_microphone_is_given_time_for_its_first_block() -> None:
    watched = Watched(first_s=2.0)
    assert watched.run(2.5) == []
    watched.source.plugged = False
    (lost,) = watched.run(2.0)
    watched.source.plugged = True
    mended_s = watched.clock.now()
    (back,) = watched.run(6.0)
    assert isinstance(lost, DeviceLost) and isinstance(back, DeviceBack)
    assert watched.source.openings == 2
    assert back.at - mended_s <= 5.0


def test_a_bug_in_the_recogniser_is_told_once_and_listening_goes_on() -> None:
    clock = FakeClock()
    inbox = Inbox(clock)
    source = FakeSource()
    heard = Blocks()

    def feed(block: Samples, at_s: float) -> None:
        heard.feed(block, at_s)
        if len(heard.blocks) < 3:
            raise ValueError("a bug")

    microphone = Microphone(source, feed, inbox, clock)
    microphone.start()
    source.speak(noise(0.5))
    heard.wait(10)
    microphone.close()
    lost = inbox.get(0)
    assert isinstance(lost, DeviceLost)
    assert "a bug" in lost.reason
    assert inbox.get(0) is None


def posted(inbox: Inbox) -> list[Event]:
    events: list[Event] = []
    while (event := inbox.get(0)) is not None:
        events.append(event)
    return events


def test_a_fault_in_hearing_that_does_not_come_again_is_over() -> None:
    watched = Watched()
    assert watched.run(1.0) == []
    watched.microphone._fault_s = watched.clock.now()
    watched.microphone._lost("hearing", "a fault in hearing")
    (lost,) = watched.run(FAULT_OVER_S - 1.0)
    assert isinstance(lost, DeviceLost)
    assert [type(event) for event in watched.run(2.0)] == [DeviceBack]


def test_an_ear_that_hangs_is_told_and_told_again_when_it_has_caught_up() -> None:
    clock = FakeClock()
    inbox = Inbox(clock)
    source = FakeSource()
    heard, hangs = Blocks(), threading.Event()

    def feed(block: Samples, at_s: float) -> None:
        heard.feed(block, at_s)
        assert hangs.wait(5.0)

    microphone = Microphone(source, feed, inbox, clock)
    microphone.open()
    hearing = threading.Thread(target=microphone._hear, daemon=True)
    hearing.start()
    source.speak(noise(0.1))
    heard.wait(1)
    for _ in range(60):
        clock.sleep(CHECK_S)
        source.speak(noise(0.05))
        microphone.check()
    (lost,) = posted(inbox)
    assert isinstance(lost, DeviceLost)
    assert lost.reason == "the hearing is 9 s behind"
    assert lost.at < 10.0
    for _ in range(2 * MOST_BLOCKS):
        source.speak(noise(0.05))
    assert microphone._queue.qsize() <= MOST_BLOCKS, "bounded"
    hangs.set()
    heard.wait(MOST_BLOCKS)
    microphone.check()
    microphone.close()
    hearing.join(5.0)
    assert [type(event) for event in posted(inbox)] == [DeviceBack]


def test_the_watch_over_the_microphone_survives_what_happens_to_it() -> None:
    class Fails(FakeSource):
        failing = True

        def available(self) -> bool:
            if self.failing:
                raise FileNotFoundError(2, "no folder for temporary files")
            return True

    clock = FakeClock()
    inbox = Inbox(clock)
    source = Fails()
    microphone = Microphone(source, lambda block, at_s: None, inbox, clock)
    microphone.start()
    source.speak(noise(0.1))
    clock.sleep(1.0)
    lost = inbox.get(5.0)
    assert isinstance(lost, DeviceLost)
    assert "a fault in watching it" in lost.reason
    source.failing = False
    source.speak(noise(0.1))
    assert isinstance(inbox.get(5.0), DeviceBack)
    microphone.close()


def test_a_recording_plays_at_the_pace_of_the_clock() -> None:
    clock = FakeClock()
    source = FileSource(Clip(noise(0.3), SPEECH_RATE_HZ), clock)
    times_s: list[float] = []
    silent: list[bool] = []
    done = threading.Event()

    def take(block: bytes) -> None:
        times_s.append(clock.now())
        silent.append(not np.frombuffer(block, np.float32).any())
        if len(times_s) == 12:
            source.close()
            done.set()

    assert source.open(take) == SPEECH_RATE_HZ
    assert done.wait(5.0)
    assert times_s == pytest.approx([n * BLOCK / SPEECH_RATE_HZ for n in range(12)])
    assert silent == [False] * 10 + [True] * 2  # 0.3 s are 9.4 blocks
