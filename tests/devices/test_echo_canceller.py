"""Our own voice taken off what was heard, in rooms made of numbers; the stop word stays."""

from __future__ import annotations

import numpy as np
import pytest
import scipy.signal

from assistant.devices.barge_in import BargeInDetector
from assistant.devices.clock import FakeClock
from assistant.devices.echo_canceller import REACH_S, EchoReference, cancel_echo
from assistant.devices.sound import BLOCK, Clip, Samples, blocks
from assistant.messages import SPEECH_RATE_HZ

RNG = np.random.default_rng(11)
LENGTH_S = 12.0


def talk(seconds: float, pitch_hz: float) -> Samples:
    """A buzz through moving formants in syllables, with the breath and the pauses of speech."""
    n = int(seconds * SPEECH_RATE_HZ)
    t = np.arange(n) / SPEECH_RATE_HZ
    glide = pitch_hz * (1 + 0.15 * np.sin(2 * np.pi * 0.7 * t))
    buzz = np.diff(np.floor(np.cumsum(glide) / SPEECH_RATE_HZ), prepend=0.0)
    source = buzz + 0.03 * RNG.normal(size=n)
    out = np.zeros(n)
    for start in range(0, n, 2400):
        part = slice(start, start + 2400)
        for formant_hz in RNG.uniform([300, 900, 2300], [800, 2200, 3200]):
            b, a = scipy.signal.iirpeak(formant_hz, 8, fs=SPEECH_RATE_HZ)
            out[part] += scipy.signal.lfilter(b, a, source[part])
    out *= (np.mod(t, 0.24) < 0.17) * (np.mod(t, 2.0) < 1.7)
    return (0.1 * out / out.std()).astype(np.float32)


def in_a_room(sound: Samples, late_s: float) -> Samples:
    """Late, through a speaker that is not straight and a room of 70 ms."""
    path = RNG.normal(size=2400) * np.exp(-np.arange(2400) / 400) * 0.25
    path[0] = 1.0
    bent = np.tanh(0.5 * sound) / 0.5
    echo = scipy.signal.fftconvolve(bent, path)[: len(sound)]
    echo *= sound.std() / echo.std()
    late = round(late_s * SPEECH_RATE_HZ)
    return np.concatenate([np.zeros(late), echo])[: len(sound)].astype(np.float32)


def hiss(length: int) -> Samples:
    return RNG.normal(0, 0.0008, length).astype(np.float32)


@pytest.mark.parametrize("late_s", [0.03, 0.2, 0.45, 0.8])
def test_most_of_our_own_voice_is_taken_off_however_late_it_comes(late_s: float) -> None:
    said = talk(2.5, 110)
    heard = in_a_room(said, late_s) + hiss(len(said))
    played = np.concatenate([np.zeros(round(REACH_S * SPEECH_RATE_HZ), np.float32), said])
    rest = cancel_echo(heard, played)
    taken_db = 10 * np.log10(np.mean(heard**2) / np.mean(rest**2))
    assert taken_db >= 12


def test_somebody_else_stays() -> None:
    said, other = talk(2.5, 110), talk(2.5, 190)
    played = np.concatenate([np.zeros(round(REACH_S * SPEECH_RATE_HZ), np.float32), said])
    rest = cancel_echo(in_a_room(said, 0.2) + other + hiss(len(said)), played)
    assert np.corrcoef(rest, other)[0, 1] >= 0.9


def test_with_nothing_played_nothing_is_changed() -> None:
    other = talk(2.0, 190)
    silence = np.zeros(len(other) + round(REACH_S * SPEECH_RATE_HZ), np.float32)
    assert cancel_echo(other, silence) is other


def test_what_was_sent_is_known_by_the_clock_and_cut_by_a_hush() -> None:
    clock = FakeClock(10.0)
    own = EchoReference(clock)
    own.began(Clip(np.ones(16_000, np.float32), 16_000))
    clock.sleep(0.5)
    own.ended()
    played = own.played(9.75, 16_000)
    assert not played[:4_000].any()
    assert played[4_000:12_000].all()
    assert not played[12_000:].any()


def found(heard: Samples, said: Samples) -> list[tuple[float, float]]:
    """When each utterance was given, and how long it was."""
    own = EchoReference(FakeClock())
    own.began(Clip(said, SPEECH_RATE_HZ))
    over = BargeInDetector(own)
    got = []
    for number, block in enumerate(blocks(heard)):
        at_s = (number + 1) * BLOCK / SPEECH_RATE_HZ
        got += [(at_s, len(sound) / SPEECH_RATE_HZ) for sound in over.feed(block, at_s)]
    return got


def with_word(heard: Samples, at_s: float, seconds: float, gain: float) -> Samples:
    out = heard.copy()
    first = round(at_s * SPEECH_RATE_HZ)
    word = talk(seconds, 190)[: len(out) - first]
    out[first : first + len(word)] += gain * word
    return out


@pytest.mark.parametrize("late_s", [0.05, 0.3, 0.6])
def test_our_own_voice_alone_is_nobody(late_s: float) -> None:
    said = talk(LENGTH_S, 110)
    assert found(in_a_room(said, late_s) + hiss(len(said)), said) == []


@pytest.mark.parametrize("gain", [0.7, 1.0, 2.0])
def test_a_word_over_our_own_voice_is_found_once_and_soon(gain: float) -> None:
    said = talk(LENGTH_S, 110)
    heard = with_word(in_a_room(said, 0.2) + hiss(len(said)), 5.0, 0.8, gain)
    ((at_s, length_s),) = found(heard, said)
    assert 5.8 <= at_s <= 6.8
    assert 0.6 <= length_s <= 2.0


def test_in_a_headset_there_is_no_echo_and_a_word_is_found_too() -> None:
    said = talk(LENGTH_S, 110)
    quiet = hiss(len(said))
    assert found(quiet, said) == []
    ((at_s, _),) = found(with_word(quiet, 5.0, 0.8, 0.5), said)
    assert 5.8 <= at_s <= 6.8
