"""Augmentation: the same for the same seed, at the level that was asked for."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.enrolment import augmentation
from assistant.enrolment.augmentation import Augmentation, augmented
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound

STEADY = Augmentation(
    speed=(1.0, 1.0), room=0, band=0, tilt_db=0, raised=0, clipped=0, talk=0, clean=0,
    snr_db=(10, 10),
)  # fmt: skip


def tone(seconds: float = 1.0, hz: float = 440.0) -> Sound:
    at = np.arange(int(seconds * SPEECH_RATE_HZ)) / SPEECH_RATE_HZ
    return (0.3 * np.sin(2 * np.pi * hz * at)).astype(np.float32)


def loudest_hz(sound: Sound) -> float:
    spectrum = np.abs(np.fft.rfft(sound * np.hanning(len(sound))))
    return float(spectrum.argmax() * SPEECH_RATE_HZ / len(sound))


def test_the_same_seed_gives_the_same_sound_and_another_another() -> None:
    first, again, other = (
        augmented(tone(), np.random.default_rng(s), Augmentation()) for s in (1, 1, 2)
    )
    assert np.array_equal(first, again)
    assert len(first) != len(other) or not np.array_equal(first, other)


@pytest.mark.parametrize("seed", range(40))
def test_whatever_is_drawn_it_stays_a_sound(seed: int) -> None:
    sound = augmented(tone(), np.random.default_rng(seed), Augmentation(), [tone(0.5, 300.0)])
    assert sound.dtype == np.float32
    assert (
        0.55 * SPEECH_RATE_HZ < len(sound) < 1.75 * SPEECH_RATE_HZ
    )  # two speeds of 0.78 to 1.25 multiply
    assert np.isfinite(sound).all() and 0 < np.abs(sound).max() <= 1


def test_noise_stands_as_far_below_the_speech_as_was_asked() -> None:
    clean = tone()
    sound = augmented(clean, np.random.default_rng(3), STEADY)
    share = float(sound @ clean / (clean @ clean))  # what is left of the tone itself
    rest = sound - share * clean
    snr_db = 20 * np.log10(share * np.sqrt(np.mean(clean**2)) / np.sqrt(np.mean(rest**2)))
    assert snr_db == pytest.approx(10, abs=0.7)


def test_stretching_changes_the_speed_and_not_the_pitch() -> None:
    sound = augmentation.time_stretched(tone(2.0), 1.25)
    assert len(sound) / SPEECH_RATE_HZ == pytest.approx(2.0 / 1.25, rel=0.08)
    assert loudest_hz(sound) == pytest.approx(440, rel=0.03)


def test_a_quicker_smaller_person_is_higher() -> None:
    raised = augmentation._resampled(tone(), 1.2)
    assert loudest_hz(raised) == pytest.approx(440 * 1.2, rel=0.02)
    assert len(raised) == int(SPEECH_RATE_HZ / 1.2)


def test_noises_differ_in_colour_and_are_of_one_level() -> None:
    centres = []
    for seed in range(12):
        sound = augmentation.noise(SPEECH_RATE_HZ, np.random.default_rng(seed))
        assert np.sqrt(np.mean(sound**2)) == pytest.approx(1, rel=1e-3)
        power = np.abs(np.fft.rfft(sound)) ** 2
        centres.append(float(power @ np.arange(len(power)) / power.sum()))
    assert max(centres) > 4 * min(centres)


def test_clipping_cuts_the_tops_off() -> None:
    driven = Augmentation(clipped=1.0)
    sound = augmentation.at_random_level(tone(), np.random.default_rng(1), driven)
    assert np.mean(np.abs(sound) >= 0.979) > 0.05


def test_silence_does_not_break_it() -> None:
    sound = augmented(
        np.zeros(SPEECH_RATE_HZ, np.float32), np.random.default_rng(5), Augmentation()
    )
    assert np.isfinite(sound).all()
