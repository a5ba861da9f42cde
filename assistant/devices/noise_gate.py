"""Has the noise become too loud to trust speech, live? Pure sums over blocks; knows no device.

A valve that lifts roars for minutes. Speech is then not refused word by word but as a whole, told
once, and taken up again when it is quiet (human-factors requirement 10: within a second).
"""

from __future__ import annotations

from collections import deque
from typing import Literal

import numpy as np

from assistant.devices.mic_check import speech_to_noise_db
from assistant.devices.sound import BLOCK, Samples
from assistant.messages import SPEECH_RATE_HZ

_WINDOW = round(0.8 * SPEECH_RATE_HZ / BLOCK)  # blocks; the pauses within speech fall inside it
_FLOOR = 8  # per cent of blocks that are quieter than what is taken for the noise
TOO_LOUD_DB = 3.0  # speech over noise; readings at 5 dB are still heard right nine times in ten
CLEAR_DB = 6.0  # the start-up check's own limit: what was refused there is not taken up here
_UTTERANCES = 8  # the operator's level is the median of this many


class NoiseGate:
    """Follows the noise against the level at which the operator speaks.

    Nothing is said before the operator was heard once: without a voice there is nothing to compare.
    """

    def __init__(self) -> None:
        self._levels: deque[float] = deque(maxlen=_WINDOW)
        self._spoken: deque[float] = deque(maxlen=_UTTERANCES)
        self.too_loud = False

    @property
    def noise_db(self) -> float:
        """The noise now, in dB of full scale."""
        return float(np.percentile(self._levels, _FLOOR)) if self._levels else -120.0

    @property
    def ratio_db(self) -> float | None:
        """The operator's voice over the noise now; None before the operator was heard."""
        if not self._spoken:
            return None
        return speech_to_noise_db(float(np.median(self._spoken)), self.noise_db)

    def heard(self, sound: Samples) -> None:
        """An utterance that was understood: this is how loud the operator speaks."""
        levels = [_level_db(sound[i : i + BLOCK]) for i in range(0, len(sound) - BLOCK + 1, BLOCK)]
        if levels:
            loudest = np.sort(levels)[-max(1, len(levels) // 2) :]
            self._spoken.append(float(10 * np.log10(np.mean(10 ** (loudest / 10)))))

    def feed(self, block: Samples) -> Literal["too loud", "clear"] | None:
        """What changed with this block, if anything."""
        self._levels.append(_level_db(block))
        ratio_db = self.ratio_db
        if ratio_db is None or len(self._levels) < _WINDOW:
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
