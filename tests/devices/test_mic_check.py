"""What a recording says about its microphone, on recordings with a known fault."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import scipy.signal

from assistant.devices.mic_check import (
    MicMeasurement,
    clipped_share,
    measure_microphone,
    speech_to_noise_db,
)
from assistant.devices.sound import Clip, Samples, read_clip

RATE_HZ = 48_000


def speechlike(level_db: float, noise_db: float, rate_hz: int = RATE_HZ) -> Samples:
    """A second of noise, then three of a voiced buzz in syllables over it, at these levels."""
    rng = np.random.default_rng(3)
    t = np.arange(4 * rate_hz) / rate_hz
    buzz = scipy.signal.lfilter([1], [1, -0.7], (np.mod(t * 120, 1) < 0.1) - 0.1)
    buzz = buzz + 0.05 * rng.normal(size=len(t))  # breath up to the top of the band
    syllables = (np.mod(t * 3, 1) < 0.7) & (t > 1.0)
    voiced = buzz * syllables
    voiced *= 10 ** (level_db / 20) / np.sqrt(np.mean(voiced[syllables] ** 2))
    noise = rng.normal(size=len(t)) * 10 ** (noise_db / 20)
    return (voiced + noise).astype(np.float32)


def told(measured: MicMeasurement) -> str:
    return "; ".join(finding.what for finding in measured.findings)


def test_a_good_microphone_has_nothing_against_it() -> None:
    measured = measure_microphone(Clip(speechlike(-24, -60), RATE_HZ))
    assert measured.findings == ()
    assert measured.usable
    assert measured.speech_db == pytest.approx(-24, abs=1.5)
    assert measured.noise_db == pytest.approx(-60, abs=1.5)
    assert measured.ratio_db == pytest.approx(36, abs=3)


@pytest.mark.parametrize("ratio_db", [8.0, 12.0, 20.0])
def test_ratio_is_of_speech_alone(ratio_db: float) -> None:
    measured = measure_microphone(Clip(speechlike(-30 + ratio_db, -30), RATE_HZ))
    assert measured.ratio_db == pytest.approx(ratio_db, abs=1.5)


def test_too_much_noise_is_refused_with_what_to_do() -> None:
    measured = measure_microphone(Clip(speechlike(-26, -30), RATE_HZ))
    assert not measured.usable
    assert "above the noise" in told(measured) or "stood out" in told(measured)
    assert all(finding.remedy for finding in measured.findings)


def test_a_faint_voice_is_too_far() -> None:
    measured = measure_microphone(Clip(speechlike(-50, -80), RATE_HZ))
    assert "too far" in told(measured)


def test_clipping_is_told() -> None:
    loud = np.clip(speechlike(0, -60), -0.5, 0.5)
    measured = measure_microphone(Clip(loud, RATE_HZ))
    assert "clips" in told(measured)


def test_a_clean_sine_does_not_clip() -> None:
    t = np.arange(RATE_HZ) / RATE_HZ
    sine = np.sin(2 * np.pi * 997 * t).astype(np.float32)
    assert clipped_share(sine) < 0.001
    assert clipped_share(np.clip(sine * 1.5, -1, 1)) > 0.2


@pytest.mark.parametrize(("pass_hz", "rate_hz"), [(3_400, 48_000), (3_400, 16_000)])
def test_telephone_quality_is_refused(pass_hz: int, rate_hz: int) -> None:
    band = scipy.signal.ellip(12, 0.1, 90, pass_hz, fs=rate_hz, output="sos")
    narrow = scipy.signal.sosfilt(band, speechlike(-24, -60, rate_hz)).astype(np.float32)
    measured = measure_microphone(Clip(narrow, rate_hz))
    assert "telephone-quality" in told(measured)
    assert not measured.usable


def test_wideband_call_quality_is_told_but_not_refused() -> None:
    band = scipy.signal.ellip(12, 0.1, 90, 7_000, fs=RATE_HZ, output="sos")
    narrow = scipy.signal.sosfilt(band, speechlike(-24, -60)).astype(np.float32)
    measured = measure_microphone(Clip(narrow, RATE_HZ))
    assert "wideband call-quality" in told(measured)
    assert measured.usable


def test_eight_kilohertz_is_telephone_quality_by_its_rate() -> None:
    assert "telephone" in told(measure_microphone(Clip(speechlike(-24, -60, 8_000), 8_000)))


@pytest.mark.parametrize("samples", [np.zeros(RATE_HZ, np.float32), np.zeros(0, np.float32)])
def test_digital_silence_is_a_wrong_or_muted_device(samples: Samples) -> None:
    measured = measure_microphone(Clip(samples, RATE_HZ))
    assert "digital silence" in told(measured)
    assert not measured.usable


def test_noise_without_speech_is_told() -> None:
    noise = np.random.default_rng(1).normal(0, 0.01, 3 * RATE_HZ).astype(np.float32)
    assert "no speech" in told(measure_microphone(Clip(noise, RATE_HZ)))


def test_noise_under_the_speech_is_taken_off() -> None:
    """Two equal powers add to 3.01 dB more, so speech that reads 3.01 dB over noise equals it."""
    assert speech_to_noise_db(-26.99, -30.0) == pytest.approx(0.0, abs=0.01)


@pytest.mark.speech
def test_peoples_own_recordings_are_usable_and_their_telephone_copies_are_not(
    recordings: Path,
) -> None:
    """Recordings of many speakers and microphones: no finding against any; all copies are told."""
    files = sorted((recordings / "commands").glob("*.flac"))[::8]
    for file in files:
        clip = read_clip(file)
        assert told(measure_microphone(clip)) == "", file.name
        band = scipy.signal.ellip(12, 0.1, 90, 3_400, fs=clip.rate_hz, output="sos")
        narrow = scipy.signal.sosfilt(band, clip.samples).astype(np.float32)
        assert "telephone-quality" in told(measure_microphone(Clip(narrow, clip.rate_hz))), (
            file.name
        )
