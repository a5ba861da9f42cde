"""A word over the assistant's own voice is found once and soon; the voice alone never is."""

from __future__ import annotations

import pytest
from made_rooms import MadeRoom

from assistant.devices.barge_in import BargeInDetector
from assistant.devices.clock import FakeClock
from assistant.devices.echo_canceller import EchoReference
from assistant.devices.sound import BLOCK, Clip, Samples, blocks
from assistant.messages import SPEECH_RATE_HZ

LENGTH_S = 12.0


@pytest.fixture
def room() -> MadeRoom:
    return MadeRoom(11)


def utterances(heard: Samples, said: Samples) -> list[tuple[float, float]]:
    """When each utterance was found, and how long it was."""
    reference = EchoReference(FakeClock())
    reference.began(Clip(said, SPEECH_RATE_HZ))
    detector = BargeInDetector(reference)
    found = []
    for number, block in enumerate(blocks(heard)):
        at_s = (number + 1) * BLOCK / SPEECH_RATE_HZ
        found += [(at_s, len(sound) / SPEECH_RATE_HZ) for sound in detector.feed(block, at_s)]
    return found


def with_word(room: MadeRoom, heard: Samples, at_s: float, seconds: float, gain: float) -> Samples:
    out = heard.copy()
    first = round(at_s * SPEECH_RATE_HZ)
    word = room.talk(seconds, 190)[: len(out) - first]
    out[first : first + len(word)] += gain * word
    return out


@pytest.mark.parametrize("late_s", [0.05, 0.3, 0.6])
def test_the_own_voice_alone_is_nobody(room: MadeRoom, late_s: float) -> None:
    said = room.talk(LENGTH_S, 110)
    assert utterances(room.echo(said, late_s) + room.hiss(len(said)), said) == []


@pytest.mark.parametrize("gain", [0.7, 1.0, 2.0])
def test_a_word_over_the_own_voice_is_found_once_and_soon(room: MadeRoom, gain: float) -> None:
    said = room.talk(LENGTH_S, 110)
    heard = with_word(room, room.echo(said, 0.2) + room.hiss(len(said)), 5.0, 0.8, gain)
    ((at_s, length_s),) = utterances(heard, said)
    assert 5.8 <= at_s <= 6.8
    assert 0.6 <= length_s <= 2.0


def test_in_a_headset_there_is_no_echo_and_a_word_is_found_too(room: MadeRoom) -> None:
    said = room.talk(LENGTH_S, 110)
    quiet = room.hiss(len(said))
    assert utterances(quiet, said) == []
    ((at_s, _),) = utterances(with_word(room, quiet, 5.0, 0.8, 0.5), said)
    assert 5.8 <= at_s <= 6.8
