"""What is spoken is shaped to be heard beside an engine, and stays speech."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.devices.loud_speech import PEAK, LoudVoice, shaped
from assistant.devices.sound import Clip, at_rate

RATE = 22_050


def vowel(seconds: float = 0.5) -> np.ndarray:
    """A voice of 120 Hz: harmonics that fall by 12 dB an octave, as a spoken vowel's do."""
    t = np.arange(int(seconds * RATE)) / RATE
    parts = [np.sin(2 * np.pi * 120 * n * t) / n**2 for n in range(1, 40)]
    return (0.89 * np.sum(parts, 0) / np.max(np.abs(np.sum(parts, 0)))).astype(np.float32)


def power_db(samples: np.ndarray, low_hz: float, high_hz: float) -> float:
    spectrum = np.abs(np.fft.rfft(samples)) ** 2
    at = np.fft.rfftfreq(len(samples), 1 / RATE)
    return float(10 * np.log10(spectrum[(at >= low_hz) & (at < high_hz)].sum()))


def test_at_the_same_peak_the_consonants_band_gains_much_and_the_low_end_little() -> None:
    before, after = vowel(), shaped(vowel())
    assert np.max(np.abs(after)) <= PEAK + 1e-6
    assert power_db(after, 1000, 5000) - power_db(before, 1000, 5000) > 8.0
    low = power_db(after, 50, 500) - power_db(before, 50, 500)
    assert low < power_db(after, 1000, 5000) - power_db(before, 1000, 5000) - 6.0


@given(st.lists(st.floats(-1.0, 1.0, width=32), min_size=0, max_size=200))
def test_whatever_comes_in_nothing_is_over_the_peak_and_nothing_is_no_number(
    values: list[float],
) -> None:
    after = shaped(np.array(values, dtype=np.float32))
    assert after.shape == (len(values),)
    assert np.all(np.isfinite(after))
    assert np.max(np.abs(after), initial=0.0) <= PEAK + 1e-6


@pytest.mark.parametrize("rate_hz", [44_100, 48_000])
def test_a_card_of_another_rate_meets_no_higher_peak(rate_hz: int) -> None:
    played = at_rate(Clip(shaped(vowel()), RATE), rate_hz).samples
    assert np.max(np.abs(played)) <= 10 ** (-0.5 / 20)


def test_what_is_soft_in_a_sentence_is_raised() -> None:
    def softer_db(samples: np.ndarray) -> float:
        return power_db(samples[:RATE], 0, RATE) - power_db(samples[RATE:], 0, RATE)

    sentence = np.concatenate([vowel(1.0), 0.1 * vowel(1.0)])
    assert softer_db(sentence) == pytest.approx(20.0, abs=0.1)
    assert softer_db(shaped(sentence)) < 12.0


def test_silence_stays_silence() -> None:
    assert not shaped(np.zeros(100, np.float32)).any()


@pytest.mark.parametrize("made", [Clip(vowel(), RATE), None])
def test_a_voice_is_shaped_and_one_that_fails_fails(made: Clip | None) -> None:
    class Fake:
        trouble = "the synthesiser made no sound"

        def prepare(self) -> None: ...

        def make(self, text: str, pace_wpm: int = 140) -> Clip | None:
            return made

        def close(self) -> None: ...

    voice = LoudVoice(Fake())
    clip = voice.make("Where is the water?")
    assert voice.trouble == "the synthesiser made no sound"
    if made is None:
        assert clip is None
    else:
        assert clip is not None and clip.rate_hz == RATE
        assert np.array_equal(clip.samples, shaped(made.samples))
