"""Speech shaped to be understood beside an engine: brighter, and as loud as its peak allows.

Most of a voice's power lies below 1 kHz, where engines are loudest, its consonants are weak and its
peaks are rare. A first difference takes from the first, what is soft within a word is raised, a
soft limiter takes from the last. `footplate bench voice` measures what that is worth. Knows
samples, no words.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from assistant.devices.sound import Clip
from assistant.devices.voice import ROUTINE_WPM, Voice

EMPHASIS = 0.5  # of the sample before, taken away
RAISED = 0.4  # of the decibels that a sound lies under the loudest of its sentence
SOFTEST = 10.0 ** (-30.0 / 20.0)  # of the loudest: what lies under that is raised no more
WINDOW = 441  # samples over which loudness is taken, 20 ms at 22 kHz
OVER_DB = 10.0  # how far the peaks would stand over full scale before the limiter
PEAK = 0.89  # -1 dB of full scale
FINER = 4  # the limiter sees so many times the samples: a sound card's peak lies between them

Samples = npt.NDArray[np.float32]
Wave = npt.NDArray[np.float64]


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
    even = _evened(bright / peak)
    limited = np.tanh(_finer(even / np.max(np.abs(even))) * 10.0 ** (OVER_DB / 20.0))
    back = _changed(limited, len(even))
    highest = max(float(np.max(np.abs(wave))) for wave in (back, _finer(back)))
    loud: Samples = (back * (PEAK / highest)).astype(np.float32)
    return loud


def _evened(sound: Wave) -> Wave:
    """What is soft raised by `RAISED` of what it lacks."""
    window = np.hanning(WINDOW + 2)[1:-1]
    middle = slice(WINDOW // 2, WINDOW // 2 + len(sound))
    loudness = np.convolve(np.abs(sound), window / window.sum())[middle]
    relative = np.maximum(loudness / np.max(loudness), SOFTEST)
    return np.asarray(sound * relative**-RAISED)


def _finer(sound: Wave) -> Wave:
    return _changed(sound, FINER * len(sound))


def _changed(sound: Wave, count: int) -> Wave:
    """The same wave in so many samples."""
    return np.asarray(np.fft.irfft(np.fft.rfft(sound), count) * (count / len(sound)))


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
