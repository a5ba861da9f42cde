"""Synthetic engine noise, and noise under a voice. Knows arrays only.

The kinds are those beside an engine: blower, exhaust, safety valve, wind, clanks, and a mix. No
source: no published spectrum of a small engine was found; the bands are common experience.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy import signal

from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound
from assistant.recogniser.snr import Noise, mix


def _normalised(sound: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    """Scaled to an RMS of 1."""
    return np.asarray(sound / max(float(np.sqrt(np.mean(sound**2))), 1e-12))


def _band(
    rng: np.random.Generator, count: int, low_hz: float, high_hz: float
) -> npt.NDArray[np.float64]:
    """White noise between two frequencies, second order."""
    sos = signal.butter(2, [low_hz, high_hz], "bandpass", fs=SPEECH_RATE_HZ, output="sos")
    return np.asarray(signal.sosfilt(sos, rng.standard_normal(count)))


def blower(rng: np.random.Generator, count: int) -> npt.NDArray[np.float64]:
    """A steam jet: broad and high, wavering slowly."""
    modulation = 1 + 0.25 * np.sin(
        2 * np.pi * rng.uniform(0.2, 0.7) * np.arange(count) / SPEECH_RATE_HZ
    )
    return _band(rng, count, 700, 7000) * modulation


def chuff(rng: np.random.Generator, count: int) -> npt.NDArray[np.float64]:
    """Exhaust beats: bursts at two to five a second, each dying away."""
    beat_s = 1 / rng.uniform(2, 5)
    phase = np.mod(np.arange(count) / SPEECH_RATE_HZ, beat_s)
    return _band(rng, count, 120, 2500) * np.exp(-phase / 0.06)


def valve(rng: np.random.Generator, count: int) -> npt.NDArray[np.float64]:
    """A lifting safety valve: a steady roar over the whole band."""
    return _band(rng, count, 250, 7500)


def wind(rng: np.random.Generator, count: int) -> npt.NDArray[np.float64]:
    """Gusts over the microphone: low, slowly swelling."""
    swell = np.interp(np.arange(count), np.linspace(0, count, 12), rng.uniform(0.2, 1.5, 12))
    return _band(rng, count, 30, 400) * swell


def clank(rng: np.random.Generator, count: int) -> npt.NDArray[np.float64]:
    """Shovel and coupling: a few ringing blows a second apart or more."""
    out = 0.02 * _band(rng, count, 200, 4000)
    for start in rng.integers(0, count, max(1, count // SPEECH_RATE_HZ)):
        length = min(SPEECH_RATE_HZ // 3, count - int(start))
        t = np.arange(length) / SPEECH_RATE_HZ
        ring = sum(
            rng.uniform(0.3, 1) * np.sin(2 * np.pi * f * t) * np.exp(-t / rng.uniform(0.02, 0.12))
            for f in rng.uniform(400, 4500, 5)
        )
        out[start : start + length] += ring
    return out


def mixed(rng: np.random.Generator, count: int) -> npt.NDArray[np.float64]:
    """All kinds together, in random proportions."""
    parts = [rng.uniform(0.3, 1) * _normalised(kind(rng, count)) for kind in _KINDS.values()]
    return np.asarray(np.sum(parts, axis=0))


_KINDS: dict[str, Callable[[np.random.Generator, int], npt.NDArray[np.float64]]] = {
    "blower": blower,
    "chuff": chuff,
    "valve": valve,
    "wind": wind,
    "clank": clank,
}
KINDS = (*_KINDS, "mix")


def engine_noise(kind: str, seconds: float, rng: np.random.Generator) -> Sound:
    """Noise of one kind at an RMS of 0.05 of full scale, 16 kHz mono.

    >>> sound = engine_noise("mix", 0.5, np.random.default_rng(1))
    >>> len(sound), round(float(np.sqrt(np.mean(sound**2))), 3)
    (8000, 0.05)
    """
    maker = mixed if kind == "mix" else _KINDS[kind]
    noise = maker(rng, int(seconds * SPEECH_RATE_HZ))
    return (0.05 * _normalised(noise)).astype(np.float32)


@dataclass(frozen=True, slots=True)
class Surroundings:
    """The noise around a speaker."""

    snr_db: float | None = None
    """Speech-to-noise ratio; None: a quiet room."""
    kind: str = "mix"
    noise: Noise = engine_noise
    """(kind, seconds, rng) -> noise."""

    def with_noise(self, sound: Sound, rng: np.random.Generator) -> Sound:
        """The sound as it is in these surroundings."""
        if self.snr_db is None:
            return sound
        noise = self.noise(self.kind, len(sound) / SPEECH_RATE_HZ + 0.1, rng)
        return mix(sound, noise, self.snr_db)
