"""A live microphone with its threads, on a source in memory."""

from __future__ import annotations

import time
from collections.abc import Callable

import numpy as np
import pytest

from assistant.devices.clock import RealClock
from assistant.devices.inbox import Inbox
from assistant.devices.microphone import (
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


def wait_for(found: Callable[[], bool], seconds: float = 5.0) -> None:
    end = time.monotonic() + seconds
    while not found():
        assert time.monotonic() < end, "it never came"
        time.sleep(0.01)


@pytest.mark.parametrize("rate_hz", [16_000, 44_100, 48_000, 8_000])
def test_blocks_reach_the_ear_at_its_own_rate(rate_hz: int) -> None:
    heard: list[Samples] = []
    clock = RealClock()
    source = FakeSource(rate_hz)
    microphone = Microphone(source, lambda block, at_s: heard.append(block), Inbox(clock), clock)
    microphone.start()
    t = np.arange(2 * rate_hz) / rate_hz
    source.speak((0.5 * np.sin(2 * np.pi * 500 * t)).astype(np.float32))
    wait_for(lambda: len(heard) >= 58)
    microphone.close()
    assert {len(block) for block in heard} == {BLOCK}
    sound = np.concatenate(heard)[:SPEECH_RATE_HZ]
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
    clock = RealClock()
    source = FakeSource()
    source.plugged = False
    with pytest.raises(WorldFailedError, match="no microphone"):
        Microphone(source, lambda block, at_s: None, Inbox(clock), clock).start()


def test_whether_a_microphone_can_be_used_is_asked_without_keeping_it() -> None:
    source = FakeSource()
    assert trouble_with(source) == ""
    source.plugged = False
    assert trouble_with(source) == "there is no microphone on this machine"


def test_unplugging_is_told_within_two_seconds_and_mended_within_five() -> None:
    clock = RealClock()
    inbox = Inbox(clock)
    source = FakeSource()
    heard: list[Samples] = []
    microphone = Microphone(source, lambda block, at_s: heard.append(block), inbox, clock)
    microphone.start()
    source.speak(noise(0.1))
    source.plugged = False
    pulled_s = clock.now()
    lost = inbox.get(3.0)
    assert isinstance(lost, DeviceLost)
    assert lost.at - pulled_s <= 2.0
    source.plugged = True
    mended_s = clock.now()
    back = None
    while back is None and clock.now() - mended_s < 6:
        source.speak(noise(0.05))
        back = inbox.get(0.05)
    microphone.close()
    assert isinstance(back, DeviceBack)
    assert back.at - mended_s <= 5.0


class SlowSource(FakeSource):
    """Its first block comes two seconds after it was opened, as from an idle sound server."""

    def __init__(self, clock: RealClock) -> None:
        super().__init__()
        self._clock = clock
        self._opened_s = 0.0
        self.openings = 0

    def open(self, on_block: OnBlock) -> int:
        rate_hz = super().open(on_block)
        self._opened_s = self._clock.now()
        self.openings += 1
        return rate_hz

    def play(self) -> None:
        if self._clock.now() - self._opened_s >= 2.0:
            self.speak(noise(0.05))


def test_a_reopened_microphone_is_given_time_for_its_first_block() -> None:
    clock = RealClock()
    inbox = Inbox(clock)
    source = SlowSource(clock)
    microphone = Microphone(source, lambda block, at_s: None, inbox, clock)
    microphone.start()
    told: list[Event] = []
    for plugged, until in ((True, 2.5), (False, 4.5), (True, 8.5)):
        source.plugged = plugged
        while clock.now() < until:
            source.play()
            told += [event] if (event := inbox.get(0.05)) else []
    microphone.close()
    lost, back = told
    assert isinstance(lost, DeviceLost) and isinstance(back, DeviceBack)
    assert source.openings == 2
    assert back.at - 4.5 <= 5.0


def test_a_bug_in_the_ear_is_told_once_and_listening_goes_on() -> None:
    clock = RealClock()
    inbox = Inbox(clock)
    source = FakeSource()
    fed: list[Samples] = []

    def feed(block: Samples, at_s: float) -> None:
        fed.append(block)
        if len(fed) < 3:
            raise ValueError("a bug")

    microphone = Microphone(source, feed, inbox, clock)
    microphone.start()
    source.speak(noise(0.5))
    wait_for(lambda: len(fed) >= 10)
    microphone.close()
    lost = inbox.get(0)
    assert isinstance(lost, DeviceLost)
    assert "a bug" in lost.reason
    assert not isinstance(inbox.get(0), DeviceLost)


def test_a_recording_plays_at_the_pace_of_the_clock() -> None:
    clock = RealClock()
    heard: list[float] = []
    source = FileSource(Clip(noise(0.3), SPEECH_RATE_HZ), clock)
    microphone = Microphone(source, lambda b, at_s: heard.append(clock.now()), Inbox(clock), clock)
    microphone.start()
    wait_for(lambda: len(heard) >= 12)
    microphone.close()
    assert heard[9] - heard[0] == pytest.approx(9 * BLOCK / SPEECH_RATE_HZ, abs=0.15)
