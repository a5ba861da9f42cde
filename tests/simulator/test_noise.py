"""Engine noise made by program: what is promised of it, measured."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.snr import active_rms, mix
from assistant.simulator.noise import KINDS, engine_noise


def rms(sound: np.ndarray) -> float:
    return float(np.sqrt(np.mean(sound.astype(np.float64) ** 2)))


@pytest.mark.parametrize("kind", KINDS)
def test_same_seed_same_noise_at_the_same_level(kind: str) -> None:
    one = engine_noise(kind, 2.0, np.random.default_rng(5))
    again = engine_noise(kind, 2.0, np.random.default_rng(5))
    assert np.array_equal(one, again)
    assert rms(one) == pytest.approx(0.05, rel=1e-3)


@pytest.mark.parametrize(
    ("kind", "low_hz", "high_hz"),
    [("blower", 700, 8000), ("wind", 0, 500), ("valve", 250, 8000), ("chuff", 100, 3000)],
)
def test_where_the_power_lies(kind: str, low_hz: float, high_hz: float) -> None:
    sound = engine_noise(kind, 4.0, np.random.default_rng(6))
    power = np.abs(np.fft.rfft(sound)) ** 2
    hz = np.fft.rfftfreq(len(sound), 1 / SPEECH_RATE_HZ)
    inside = power[(hz >= low_hz) & (hz <= high_hz)].sum() / power.sum()
    assert inside > 0.8


@pytest.mark.parametrize("snr_db", [-5.0, 0.0, 10.0, 20.0])
def test_the_ratio_is_active_speech_over_noise(snr_db: float) -> None:
    t = np.arange(2 * SPEECH_RATE_HZ) / SPEECH_RATE_HZ
    speech = (0.2 * np.sin(2 * np.pi * 300 * t) * (t > 0.5) * (t < 1.0)).astype(np.float32)
    noise = engine_noise("blower", 2.0, np.random.default_rng(7))
    under = mix(speech, noise, snr_db).astype(np.float64)
    quiet = slice(0, SPEECH_RATE_HZ // 4)  # no speech there, so it tells by how much all was scaled
    scale = under[quiet].std() / noise[quiet].std()
    active = slice(int(0.55 * SPEECH_RATE_HZ), int(0.95 * SPEECH_RATE_HZ))
    speech_rms = rms(under[active] - scale * noise[active])
    assert 20 * np.log10(speech_rms / (scale * rms(noise))) == pytest.approx(snr_db, abs=0.2)


def test_silence_has_no_active_level() -> None:
    assert active_rms(np.zeros(SPEECH_RATE_HZ, np.float32)) == 0.0


def test_noise_must_be_long_enough() -> None:
    with pytest.raises(ValueError, match="shorter"):
        mix(np.ones(100, np.float32), np.ones(50, np.float32), 10)
