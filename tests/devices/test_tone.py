"""Sounds: rates, blocks, files, and the three tones."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
import soundfile

from assistant.devices.sound import Clip, Samples, at_rate, blocks, read_clip
from assistant.devices.tone import RATE_HZ, tone
from assistant.errors import InputWrongError
from assistant.messages import Grade


def sine(hz: float, rate_hz: int, length_s: float = 1.0) -> Samples:
    t = np.arange(int(rate_hz * length_s)) / rate_hz
    return (0.5 * np.sin(2 * np.pi * hz * t)).astype(np.float32)


@pytest.mark.parametrize("rate_hz", [8_000, 22_050, 44_100, 48_000])
def test_another_rate_keeps_the_pitch_and_the_length(rate_hz: int) -> None:
    changed = at_rate(Clip(sine(440, rate_hz), rate_hz), 16_000)
    spectrum = np.abs(np.fft.rfft(changed.samples))
    assert np.argmax(spectrum) * 16_000 / len(changed.samples) == pytest.approx(440, abs=2)
    assert changed.duration_s == pytest.approx(1.0, abs=0.01)


def test_blocks_are_equal_and_lose_nothing() -> None:
    samples = np.arange(1, 1100, dtype=np.float32)
    parts = blocks(samples)
    assert {len(part) for part in parts} == {512}
    joined = np.concatenate(parts)
    assert (joined[:1099] == samples).all()
    assert not joined[1099:].any()


def test_a_file_of_two_channels_becomes_one(tmp_path: Path) -> None:
    both = np.stack([np.full(100, 0.5), np.full(100, -0.25)], axis=1)
    soundfile.write(tmp_path / "two.wav", both, 8_000)
    clip = read_clip(tmp_path / "two.wav")
    assert clip.rate_hz == 8_000
    assert clip.samples == pytest.approx(0.125, abs=1e-3)


def test_a_file_that_is_no_sound_is_told_in_one_line(tmp_path: Path) -> None:
    (tmp_path / "no.wav").write_text("not a sound")
    for name in ("no.wav", "missing.wav"):
        with pytest.raises(InputWrongError, match=name) as error:
            read_clip(tmp_path / name)
        assert "\n" not in str(error.value)


@pytest.mark.parametrize("grade", Grade)
def test_tones_last_half_a_second_with_peaks_where_they_are_heard(grade: Grade) -> None:
    """MIL-STD-1472E: at least 0.5 s, 500-3000 Hz; IEC 60601-1-8: 4 peaks within 15 dB."""
    clip = tone(grade)
    assert clip.duration_s >= 0.5
    assert 0.5 < np.abs(clip.samples).max() < 1.0
    power_db = 20 * np.log10(np.abs(np.fft.rfft(clip.samples * np.hanning(len(clip.samples)))))
    hz = np.fft.rfftfreq(len(clip.samples), 1 / RATE_HZ)
    top = power_db.max()
    peaks = [
        float(hz[i])
        for i in range(5, len(hz) - 5)
        if power_db[i] == power_db[i - 5 : i + 6].max() and power_db[i] > top - 15
    ]
    within = [peak for peak in peaks if 500 <= peak <= 3000]
    assert len(within) >= 4
    assert any(150 <= peak <= 1000 for peak in peaks)


def envelope(grade: Grade) -> npt.NDArray[np.float64]:
    samples = tone(grade).samples[: RATE_HZ // 2]
    return np.array([np.abs(part).max() for part in np.array_split(samples, 50)])


def pulses(grade: Grade) -> int:
    on = envelope(grade) > 0.1
    return int(np.count_nonzero(on[1:] & ~on[:-1]) + on[0])


def test_tones_are_told_apart_in_their_first_half_second() -> None:
    assert [pulses(grade) for grade in Grade] == [1, 3, 5]
