"""Noise to learn under: made by program, recorded, or both. Knows arrays and chance."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from assistant.enrolment.augmentation import noise, stretch, unit_rms
from assistant.recogniser.base import Sound

_SLOWEST, _FASTEST = 0.8, 1.25  # of a recording, and so its pitch
_LEAST_UNDER, _MOST_UNDER = 0.1, 0.8  # of made noise over a recording


@dataclass(frozen=True, slots=True, eq=False)
class NoiseMixture:
    """A `NoiseMaker`."""

    recorded: Sequence[Sound]
    share: float = 0.4
    """Of all noises: those with a recording in them, half of these with made noise over it."""

    def __call__(self, count: int, rng: np.random.Generator) -> Sound:
        """So many samples at an RMS of 1."""
        if not self.recorded or rng.random() >= self.share:
            return noise(count, rng)
        sound = self.recorded[int(rng.integers(len(self.recorded)))]
        pace = float(np.exp(rng.uniform(np.log(_SLOWEST), np.log(_FASTEST))))
        at = np.arange(int(len(sound) / pace)) * pace
        moved = np.interp(at, np.arange(len(sound)), sound).astype(np.float32)
        background = stretch(moved, count, rng)
        if rng.random() < 0.5:
            over = rng.uniform(_LEAST_UNDER, _MOST_UNDER) * noise(count, rng)
            background = unit_rms((background + over).astype(np.float32))
        return background
