"""From blocks to events: what is heard, what is not, and when."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import numpy as np
import pytest

from assistant.devices.clock import FakeClock
from assistant.devices.inbox import Inbox
from assistant.devices.listener import HOLD_OFF_S, Hear, Listener
from assistant.devices.noise_gate import NoiseGate
from assistant.devices.sound import BLOCK, Samples
from assistant.lab.faults.level_detector import LevelDetector
from assistant.messages import (
    SPEECH_RATE_HZ,
    TOO_LOUD,
    DeviceBack,
    DeviceLost,
    Event,
    Heard,
    SpeechBegan,
)

LOUD = np.full(BLOCK, 0.5, np.float32)
QUIET = np.zeros(BLOCK, np.float32)


def ear(name: str) -> Hear:
    def hear(sound: Samples) -> Heard:
        return Heard(0.0, name, (), audio_s=len(sound) / SPEECH_RATE_HZ)

    return hear


class Room:
    """A listener and what it posted."""

    def __init__(self, **options: object) -> None:
        self.clock = FakeClock()
        self.inbox = Inbox(self.clock)
        self.listener = Listener(LevelDetector(), ear("ear"), self.inbox, **options)  # type: ignore[arg-type]

    def feed(self, *blocks: Samples) -> list[Event]:
        """What came of these blocks, one every 32 ms; without the times."""
        for block in blocks:
            self.clock.sleep(BLOCK / SPEECH_RATE_HZ)
            self.listener.feed(block)
        got: list[Event] = []
        while (event := self.inbox.get(0)) is not None:
            got.append(replace(event, at=0.0))
        return got


def test_speech_is_told_when_it_begins_and_heard_when_it_ends() -> None:
    room = Room()
    assert room.feed(QUIET, LOUD) == [SpeechBegan(0.0)]
    assert room.feed(LOUD) == []
    assert room.feed(QUIET) == [Heard(0.0, "ear", (), audio_s=2 * BLOCK / SPEECH_RATE_HZ)]


def test_what_the_ear_gives_nothing_for_is_not_told() -> None:
    inbox = Inbox(FakeClock())
    listener = Listener(LevelDetector(), lambda sound: None, inbox)
    listener.feed(LOUD)
    listener.feed(QUIET)
    assert inbox.get(0) == SpeechBegan(0.0)
    assert inbox.get(0) is None


def test_our_own_voice_and_its_echo_are_never_heard() -> None:
    room = Room()
    room.listener.speaking(True)
    assert room.feed(*[LOUD] * 50) == []
    room.listener.speaking(False)
    echo = int(HOLD_OFF_S * SPEECH_RATE_HZ / BLOCK) - 1
    assert room.feed(*[LOUD] * echo, QUIET, QUIET) == []
    assert room.feed(LOUD, QUIET)[0] == SpeechBegan(0.0)


def test_blocks_that_waited_while_the_ear_worked_are_still_our_own_voice() -> None:
    room = Room()
    room.listener.speaking(True)
    room.clock.sleep(2.0)
    room.listener.speaking(False)
    room.clock.sleep(5.0)
    for number in range(20):
        room.listener.feed(LOUD, at_s=1.0 + number * 0.032)
    assert room.feed() == []
    for at_s in (2.4, 2.5):
        room.listener.feed(LOUD, at_s=at_s)
    assert room.feed() == [SpeechBegan(0.0)]


def test_what_was_begun_before_we_spoke_is_dropped_without_an_ear_for_it() -> None:
    room = Room()
    room.feed(LOUD, LOUD)
    room.listener.speaking(True)
    assert room.feed(LOUD, QUIET) == []
    room.listener.speaking(False)
    assert room.feed(*[QUIET] * 50) == []


def test_stop_words_have_an_ear_of_their_own_while_we_speak() -> None:
    room = Room(hear_stop_words=ear("stop words"))
    room.listener.speaking(True)
    (heard,) = room.feed(LOUD, LOUD, QUIET)
    assert isinstance(heard, Heard)
    assert heard.ear == "stop words"
    room.listener.speaking(False)
    room.feed(*[QUIET] * 20)
    began, heard = room.feed(LOUD, QUIET)
    assert began == SpeechBegan(0.0)
    assert isinstance(heard, Heard)
    assert heard.ear == "ear"


@pytest.mark.parametrize("we_begin_at", [1, 3])
def test_speech_that_overlaps_our_voice_goes_to_the_stop_words(we_begin_at: int) -> None:
    room = Room(hear_stop_words=ear("stop words"))
    got: list[Event] = []
    for number in range(5):
        if number == we_begin_at:
            room.listener.speaking(True)
        got += room.feed(LOUD)
    room.listener.speaking(False)
    got += room.feed(QUIET)
    ears = [event.ear for event in got if isinstance(event, Heard)]
    assert ears == ["stop words"]


def test_with_a_key_only_what_is_said_while_it_is_held_counts() -> None:
    room = Room(push_to_talk=True)
    assert room.feed(LOUD, LOUD, QUIET) == []
    room.listener.key(True)
    assert room.feed(QUIET, LOUD, LOUD) == [SpeechBegan(0.0)]
    room.listener.key(False)
    assert room.feed(QUIET) == [Heard(0.0, "ear", (), audio_s=3 * BLOCK / SPEECH_RATE_HZ)]


def test_a_key_pressed_once_is_let_go_by_the_end_of_speech() -> None:
    room = Room(push_to_talk=True)
    room.listener.key()
    began, heard = room.feed(QUIET, LOUD, LOUD, QUIET)
    assert began == SpeechBegan(0.0)
    assert heard == Heard(0.0, "ear", (), audio_s=4 * BLOCK / SPEECH_RATE_HZ)
    assert room.feed(LOUD, QUIET) == []


def test_a_key_that_is_never_let_go_does_not_fill_the_memory() -> None:
    room = Room(push_to_talk=True)
    room.listener.key(True)
    began, heard = room.feed(*[QUIET] * 1000)
    assert began == SpeechBegan(0.0)
    assert isinstance(heard, Heard)
    assert heard.audio_s == pytest.approx(8.0, abs=0.1)


def test_noise_too_loud_is_told_and_nothing_is_heard_until_it_is_clear() -> None:
    noise_gate = NoiseGate()
    noise_gate.add_utterance(np.concatenate([LOUD * 0.2] * 20))
    room = Room(noise_gate=noise_gate)
    roar = room.feed(*[LOUD] * 40)
    assert [type(event) for event in roar] == [SpeechBegan, DeviceLost]
    assert roar[1] == DeviceLost(0.0, "microphone", TOO_LOUD)
    assert [type(event) for event in room.feed(QUIET, LOUD, QUIET)] == [SpeechBegan]
    assert DeviceBack(0.0, "microphone") in room.feed(*[QUIET] * 40)
    assert isinstance(room.feed(LOUD, QUIET)[-1], Heard)


def test_what_was_heard_carries_how_long_ago_it_was_said() -> None:
    room = Room()
    for number, block in enumerate((LOUD, LOUD, QUIET)):
        room.listener.feed(block, 0.1 * number)
    room.clock.sleep(3.2)
    heard = [event for event in iter(partial(room.inbox.get, 0), None) if isinstance(event, Heard)]
    assert [event.at - event.late_s for event in heard] == [pytest.approx(heard[0].at)]

    room = Room()
    room.clock.sleep(3.2)
    for number, block in enumerate((LOUD, LOUD, QUIET)):
        room.listener.feed(block, 0.1 * number)
    heard = [event for event in iter(partial(room.inbox.get, 0), None) if isinstance(event, Heard)]
    assert [(event.at, event.late_s) for event in heard] == [(3.2, pytest.approx(3.0))]


def test_what_was_said_while_the_key_was_down_counts_though_it_is_up_by_now() -> None:
    room = Room(push_to_talk=True)
    room.clock.sleep(1.0)
    room.listener.key()
    room.clock.sleep(2.0)
    room.listener.key()
    room.clock.sleep(3.0)  # the ear was busy: the blocks waited
    for number in range(40):
        room.listener.feed(LOUD, 0.1 * number)
    events = list(iter(partial(room.inbox.get, 0), None))
    assert [type(event) for event in events] == [SpeechBegan, Heard]
    heard = events[1]
    assert isinstance(heard, Heard)
    assert heard.audio_s == pytest.approx(20 * BLOCK / SPEECH_RATE_HZ)
