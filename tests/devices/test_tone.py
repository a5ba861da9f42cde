"""The three tones: their length, their peaks, and that they are told apart."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pytest

from assistant.devices.tone import RATE_HZ, tone
from assistant.messages import Grade


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
