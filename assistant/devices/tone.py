"""The three tones before an alarm's words, distinct in their first half second. Knows no card.

Each lasts 0.5 s with several peaks between 500 and 3000 Hz: MIL-STD-1472E asks for at least 0.5 s,
a first half second unlike any other signal's, and prefers 500-3000 Hz; IEC 60601-1-8 asks for four
or more peaks within 15 dB of each other, one of them between 150 and 1000 Hz, and marks urgency by
the number of pulses. The figures are the author's choice within those.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from assistant.devices.sound import Clip
from assistant.messages import Grade

RATE_HZ = 22_050
TONE_S = 0.5
EDGE_S = 0.008  # a slower edge sounds soft, a faster one clicks


@dataclass(frozen=True, slots=True)
class Figure:
    """How a tone is built."""

    pulses: tuple[tuple[float, float, float], ...]  # start [s], length [s], fundamental [Hz]


# Danger: five quick pulses, rising. Warning: three, high-low-high. Caution: one, steady.
_FIGURES = {
    Grade.DANGER: Figure(tuple((i * 0.1, 0.07, 660.0 * 1.06**i) for i in range(5))),
    Grade.WARNING: Figure(((0.0, 0.13, 700.0), (0.18, 0.13, 560.0), (0.36, 0.13, 700.0))),
    Grade.CAUTION: Figure(((0.0, 0.46, 520.0),)),
}
PARTIALS = (1.0, 0.9, 0.75, 0.6)  # of the fundamental and its next three harmonics: within 5 dB


def tone(grade: Grade) -> Clip:
    """The sound of a grade: 0.5 s, peak 0.9.

    >>> tone(Grade.DANGER).duration_s
    0.5
    """
    samples = np.zeros(int(RATE_HZ * TONE_S))
    for start_s, length_s, fundamental_hz in _FIGURES[grade].pulses:
        pulse = _pulse(length_s, fundamental_hz)
        first = int(start_s * RATE_HZ)
        samples[first : first + len(pulse)] += pulse[: len(samples) - first]
    samples *= 0.9 / np.abs(samples).max()
    return Clip(samples.astype(np.float32), RATE_HZ)


def _pulse(length_s: float, fundamental_hz: float) -> npt.NDArray[np.float64]:
    t = np.arange(int(length_s * RATE_HZ)) / RATE_HZ
    wave = sum(
        strength * np.sin(2 * np.pi * fundamental_hz * (n + 1) * t + n)
        for n, strength in enumerate(PARTIALS)
    )
    edge = np.minimum(1.0, np.minimum(t, t[::-1]) / EDGE_S)
    return np.asarray(wave * edge)
