"""Is the noise too loud to trust speech at the moment? Pure sums over blocks; knows no device.

A safety valve that lifts roars for minutes. Speech is then refused as a whole and announced once,
not word by word, until the noise is down again (human-factors requirement 10: within a second).
"""

from __future__ import annotations

from collections import deque
from typing import Literal

import numpy as np

from assistant.devices.mic_check import speech_to_noise_db
from assistant.devices.sound import BLOCK, Samples
from assistant.messages import SPEECH_RATE_HZ

_WINDOW = round(0.8 * SPEECH_RATE_HZ / BLOCK)  # blocks; the pauses within speech fall inside it
_FLOOR = 8  # percentile of the blocks' levels that is taken for the noise
TOO_LOUD_DB = 3.0  # speech over noise; readings at 5 dB are still heard right nine times in ten
CLEAR_DB = 6.0  # the limit of the start-up check, so that the two agree
_UTTERANCES = 8  # the operator's level is the median over the last so many utterances


class NoiseGate:
    """Compares the noise with the level at which the operator speaks.

    Stays clear until the operator has been heard once: before that there is nothing to compare.
    """

    def __init__(self) -> None:
        self._block_levels_db: deque[float] = deque(maxlen=_WINDOW)
        self._speech_levels_db: deque[float] = deque(maxlen=_UTTERANCES)
        self.too_loud = False

    @property
    def noise_db(self) -> float:
        """The noise now, in dB of full scale."""
        return (
            float(np.percentile(self._block_levels_db, _FLOOR)) if self._block_levels_db else -120.0
        )

    @property
    def ratio_db(self) -> float | None:
        """The operator's voice over the noise now; None before the operator was heard."""
        if not self._speech_levels_db:
            return None
        return speech_to_noise_db(float(np.median(self._speech_levels_db)), self.noise_db)

    def add_utterance(self, sound: Samples) -> None:
        """An utterance that was understood shows how loud the operator speaks."""
        starts = range(0, len(sound) - BLOCK + 1, BLOCK)
        levels_db = [_level_db(sound[start : start + BLOCK]) for start in starts]
        if levels_db:
            loudest = np.sort(levels_db)[-max(1, len(levels_db) // 2) :]
            self._speech_levels_db.append(float(10 * np.log10(np.mean(10 ** (loudest / 10)))))

    def feed(self, block: Samples) -> Literal["too loud", "clear"] | None:
        """What changed with this block, if anything."""
        self._block_levels_db.append(_level_db(block))
        ratio_db = self.ratio_db
        if ratio_db is None or len(self._block_levels_db) < _WINDOW:
            return None
        if not self.too_loud and ratio_db < TOO_LOUD_DB:
            self.too_loud = True
            return "too loud"
        if self.too_loud and ratio_db > CLEAR_DB:
            self.too_loud = False
            return "clear"
        return None


def _level_db(block: Samples) -> float:
    return float(10 * np.log10(np.mean(np.square(block, dtype=np.float64)) + 1e-12))
