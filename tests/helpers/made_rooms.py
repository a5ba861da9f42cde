"""Speech-like sounds and their echoes in rooms made of numbers."""

from __future__ import annotations

import numpy as np
import scipy.signal

from assistant.devices.sound import Samples
from assistant.messages import SPEECH_RATE_HZ


class MadeRoom:
    """Talk, its echo and hiss, drawn from one generator."""

    def __init__(self, seed: int) -> None:
        self._rng = np.random.default_rng(seed)

    def talk(self, seconds: float, pitch_hz: float) -> Samples:
        """A buzz through moving formants in syllables, with the breath and the pauses of speech."""
        n = int(seconds * SPEECH_RATE_HZ)
        t = np.arange(n) / SPEECH_RATE_HZ
        glide = pitch_hz * (1 + 0.15 * np.sin(2 * np.pi * 0.7 * t))
        buzz = np.diff(np.floor(np.cumsum(glide) / SPEECH_RATE_HZ), prepend=0.0)
        source = buzz + 0.03 * self._rng.normal(size=n)
        out = np.zeros(n)
        for start in range(0, n, 2400):
            part = slice(start, start + 2400)
            for formant_hz in self._rng.uniform([300, 900, 2300], [800, 2200, 3200]):
                b, a = scipy.signal.iirpeak(formant_hz, 8, fs=SPEECH_RATE_HZ)
                out[part] += scipy.signal.lfilter(b, a, source[part])
        out *= (np.mod(t, 0.24) < 0.17) * (np.mod(t, 2.0) < 1.7)
        return (0.1 * out / out.std()).astype(np.float32)

    def echo(self, sound: Samples, late_s: float) -> Samples:
        """The sound late, through a speaker that is not linear and a room of 70 ms."""
        path = self._rng.normal(size=2400) * np.exp(-np.arange(2400) / 400) * 0.25
        path[0] = 1.0
        bent = np.tanh(0.5 * sound) / 0.5
        echo = scipy.signal.fftconvolve(bent, path)[: len(sound)]
        echo *= sound.std() / echo.std()
        late = round(late_s * SPEECH_RATE_HZ)
        return np.concatenate([np.zeros(late), echo])[: len(sound)].astype(np.float32)

    def hiss(self, length: int) -> Samples:
        """The noise of a quiet room."""
        return self._rng.normal(0, 0.0008, length).astype(np.float32)
