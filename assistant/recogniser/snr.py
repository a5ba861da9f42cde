"""How loud the speech in a sound is; noise mixed in at a given ratio. Knows arrays only."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
import numpy.typing as npt

from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound

Noise = Callable[[str, float, np.random.Generator], Sound]
"""(kind, seconds, rng) -> a stretch of noise."""

FRAME = SPEECH_RATE_HZ // 50
ACTIVE_DB = 25.0  # frames this near to the loudest are speech
QUIET = 0.1  # quantile of the frame powers that is taken for the noise

Powers = npt.NDArray[np.float64]


def frame_powers(sound: Sound) -> Powers:
    """Mean square of each whole frame of 20 ms; of a shorter sound, of all of it repeated."""
    count = max(1, len(sound) // FRAME)
    frames = np.resize(sound, count * FRAME).reshape(count, FRAME).astype(np.float64)
    return np.asarray(np.mean(frames**2, axis=1))


def active_power(powers: Powers) -> float:
    """Mean over the frames in which somebody speaks; of all frames where all are silent."""
    loudest = powers.max()
    active = powers[powers > loudest * 10 ** (-ACTIVE_DB / 10)] if loudest > 0 else powers
    return float(active.mean())


def active_rms(speech: Sound) -> float:
    """The level of speech while it lasts."""
    return float(np.sqrt(active_power(frame_powers(speech))))


def estimated_snr_db(sound: Sound) -> float:
    """Power of the active frames over that of the quietest tenth, dB. 0 for no sound.

    >>> tone = np.sin(np.arange(16_000)).astype(np.float32)
    >>> round(estimated_snr_db(np.concatenate([0.01 * tone[:8_000], tone])))
    40
    """
    if not len(sound):
        return 0.0
    powers = frame_powers(sound) + 1e-12
    return float(10 * np.log10(active_power(powers) / np.quantile(powers, QUIET)))


def in_noise(speech: Sound, noise: Noise, snr_db: float | None, seed: Sequence[int]) -> Sound:
    """Speech in the mixed noise; None: as it is."""
    if snr_db is None:
        return speech
    under = noise("mix", len(speech) / SPEECH_RATE_HZ + 0.1, np.random.default_rng(seed))
    return mix(speech, under, snr_db)


def mix(speech: Sound, noise: Sound, snr_db: float) -> Sound:
    """Speech with noise under it, `snr_db` being active-speech RMS over noise RMS.

    `noise` must be at least as long as `speech`; its beginning is used. The sum is scaled down only
    if it would clip.
    """
    if len(noise) < len(speech):
        raise ValueError("the noise is shorter than the speech")
    under = noise[: len(speech)].astype(np.float64)
    rms = max(float(np.sqrt(np.mean(under**2))), 1e-12)
    under *= active_rms(speech) / rms / 10 ** (snr_db / 20)
    both = speech + under
    return (both / max(1.0, float(np.abs(both).max()))).astype(np.float32)
