"""Speech shaped to be understood beside an engine: brighter, and as loud as its peak allows.

Most of a voice's power lies below 1 kHz, where engines are loudest, and its peaks are rare. A first
difference takes from the one, a soft limiter from the other. Knows samples, no words.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from assistant.devices.sound import Clip
from assistant.devices.voice import ROUTINE_WPM, Voice

EMPHASIS = 0.9  # of the sample before, taken away
OVER_DB = 9.0  # how far the peaks would stand over full scale before the limiter
PEAK = 0.89  # -1 dB of full scale

Samples = npt.NDArray[np.float32]


def shaped(samples: Samples) -> Samples:
    """The same words, shaped; silence stays silence. Mono, of any rate near 22 kHz.

    >>> bool(np.abs(shaped(np.sin(np.arange(400, dtype=np.float32)))).max() <= PEAK)
    True
    """
    if not samples.size:
        return samples
    whole = samples.astype(np.float64)
    bright = np.concatenate([whole[:1], whole[1:] - EMPHASIS * whole[:-1]])
    peak = float(np.max(np.abs(bright)))
    if peak == 0.0 or not np.isfinite(peak):
        return samples
    limited = np.tanh(bright / peak * 10.0 ** (OVER_DB / 20.0))
    loud: Samples = (limited * (PEAK / float(np.max(np.abs(limited))))).astype(np.float32)
    return loud


class LoudVoice:
    """A voice whose sentences are shaped."""

    def __init__(self, voice: Voice) -> None:
        self._voice = voice

    @property
    def trouble(self) -> str:
        """Why the last sentence failed; empty if none has."""
        return str(getattr(self._voice, "trouble", ""))

    def prepare(self) -> None:
        """As the voice's own."""
        self._voice.prepare()

    def make(self, text: str, pace_wpm: int = ROUTINE_WPM) -> Clip | None:
        """The sentence, shaped; None when the voice cannot make it."""
        clip = self._voice.make(text, pace_wpm)
        return None if clip is None else Clip(shaped(clip.samples), clip.rate_hz)

    def close(self) -> None:
        """As the voice's own."""
        self._voice.close()
