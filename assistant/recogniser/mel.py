"""Sound to the log-mel spectrogram that Whisper was trained on. Knows arrays only.

Source: Radford et al. 2022, "Robust Speech Recognition via Large-Scale Weak Supervision", 2.2: 80
channels, 25 ms windows every 10 ms; mel scale and filter areas after Slaney's Auditory Toolbox.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import numpy.typing as npt

from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound

WINDOW = 400  # samples, 25 ms
HOP = 160  # samples, 10 ms
BANDS = 80
FRAMES_PER_S = SPEECH_RATE_HZ // HOP


def to_hz(mel: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """Slaney's scale: even steps of 200/3 Hz up to 1 kHz, then 27 steps to each factor of 6.4."""
    return np.where(mel < 15, mel * 200 / 3, 1000 * 6.4 ** ((mel - 15) / 27))


def to_mel(hz: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """The inverse.

    >>> to_hz(to_mel(np.array([200.0, 6400.0]))).round(6).tolist()
    [200.0, 6400.0]
    """
    above = 15 + 27 * np.log(np.maximum(hz, 1.0) / 1000) / np.log(6.4)
    return np.where(hz < 1000, hz * 3 / 200, above)


def corners() -> npt.NDArray[np.float64]:
    """[BANDS + 2] mel: where each band begins, peaks in the next and ends in the one after."""
    return np.linspace(0, float(to_mel(np.array(SPEECH_RATE_HZ / 2))), BANDS + 2)


@cache
def mel_filters() -> npt.NDArray[np.float32]:
    """Triangles of equal area, [BANDS, WINDOW // 2 + 1]."""
    at_hz = to_hz(corners())[:, None]
    bins_hz = np.linspace(0, SPEECH_RATE_HZ / 2, WINDOW // 2 + 1)[None, :]
    rise = (bins_hz - at_hz[:-2]) / (at_hz[1:-1] - at_hz[:-2])
    fall = (at_hz[2:] - bins_hz) / (at_hz[2:] - at_hz[1:-1])
    height = 2 / (at_hz[2:] - at_hz[:-2])
    return np.asarray(np.maximum(0, np.minimum(rise, fall)) * height, dtype=np.float32)


def log_mel(sound: Sound, frames: int) -> npt.NDArray[np.float32]:
    """[BANDS, frames] of the sound, filled up with silence or cut to that length."""
    samples = frames * HOP
    padded = np.pad(sound[:samples], (0, max(0, samples - len(sound))))
    padded = np.pad(padded, WINDOW // 2, mode="reflect")
    starts = np.arange(frames)[:, None] * HOP + np.arange(WINDOW)[None, :]
    window = np.hanning(WINDOW + 1)[:-1].astype(np.float32)
    power = np.abs(np.fft.rfft(padded[starts] * window, axis=1)) ** 2
    logs = np.log10(np.maximum(mel_filters() @ power.T.astype(np.float32), 1e-10))
    return np.asarray((np.maximum(logs, logs.max() - 8) + 4) / 4, dtype=np.float32)
