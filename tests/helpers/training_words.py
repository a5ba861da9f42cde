"""Sounds and words for tests of training."""

from __future__ import annotations

import numpy as np

from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound

WORDS = (("water", "half"), ("say", "again"), ("pressure", "seventy", "five"), ("what", "next"))


def chirp(seed: int, seconds: float = 0.8) -> Sound:
    """Something with a shape in time and pitch, other for every seed."""
    rng = np.random.default_rng(seed)
    at = np.arange(int(seconds * SPEECH_RATE_HZ)) / SPEECH_RATE_HZ
    hz = np.interp(at, np.linspace(0, seconds, 5), rng.uniform(150, 2500, 5))
    return (0.3 * np.sin(2 * np.pi * np.cumsum(hz) / SPEECH_RATE_HZ)).astype(np.float32)
