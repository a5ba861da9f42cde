"""Takes the assistant's own voice off what the microphone recorded. Pure sums over samples.

What was played is known, so the echo path through speaker, room and microphone is estimated by
least squares over the recorded stretch itself, and the echo it explains is subtracted. Somebody who
speaks meanwhile is no part of what was played, and so remains.
"""

from __future__ import annotations

import threading
from collections import deque

import numpy as np
import numpy.typing as npt

from assistant.devices.clock import Clock
from assistant.devices.sound import Clip, Samples, at_rate
from assistant.messages import SPEECH_RATE_HZ

REACH_S = 1.5  # most delay of the echo: buffers both ways, and an idle sound server
TAPS = 1600  # 0.1 s of the room
BEFORE = 160  # taps ahead of the loudest path: the first sound need not be the loudest
WHITENING = 0.8  # exponent of the cross spectrum's magnitude that is divided out
LOADING = 1e-3  # of the power, added to the diagonal: quiet bands are not amplified

Wave = npt.NDArray[np.float64]


class EchoReference:
    """Remembers what was played and when; written in one thread, read in another."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._played: deque[tuple[float, Samples]] = deque(maxlen=16)
        self._lock = threading.Lock()

    def began(self, clip: Clip) -> None:
        """This clip begins to play now."""
        now_s = self._clock.now()
        with self._lock:
            self._played.append((now_s, at_rate(clip, SPEECH_RATE_HZ).samples))

    def ended(self) -> None:
        """The last clip ended now, early if it was hushed."""
        now_s = self._clock.now()
        with self._lock:
            if self._played:
                began_s, samples = self._played[-1]
                length = max(0, round((now_s - began_s) * SPEECH_RATE_HZ))
                self._played[-1] = (began_s, samples[:length])

    def played(self, from_s: float, length: int) -> Samples:
        """What went to the speaker from then on: so many samples at 16 kHz."""
        out = np.zeros(length, np.float32)
        with self._lock:
            clips = list(self._played)
        for began_s, samples in clips:
            first = round((began_s - from_s) * SPEECH_RATE_HZ)
            part = samples[max(0, -first) : max(0, length - first)]
            out[max(0, first) : max(0, first) + len(part)] = part
        return out


def cancel_echo(recorded: Samples, played: Samples) -> Samples:
    """The recording with the echo of `played` taken off; both at 16 kHz.

    played: what went to the speaker from REACH_S before the recording began until its end.
    """
    if not np.any(played):
        return recorded
    from scipy.signal import fftconvolve

    heard = np.asarray(recorded, np.float64)
    aligned = _aligned(heard, np.asarray(played, np.float64))
    echo = fftconvolve(aligned, _echo_path(heard, aligned))[: len(heard)]
    return np.asarray(heard - echo, np.float32)


def _aligned(heard: Wave, played: Wave) -> Wave:
    """`played` moved so that its echo comes a little late, as long as `heard`."""
    size = 1 << (len(played) + len(heard) - 1).bit_length()
    cross = np.fft.rfft(played, size) * np.conj(np.fft.rfft(heard, size))
    # Whitened in part: a voiced sound matches itself a pitch period away nearly as well.
    match = np.fft.irfft(cross / (np.abs(cross) + 1e-12) ** WHITENING, size)
    start = int(np.argmax(np.abs(match[: len(played) - len(heard) + 1]))) + BEFORE
    aligned = np.zeros(len(heard))
    part = played[start : start + len(heard)]
    aligned[: len(part)] = part
    return aligned


def _echo_path(heard: Wave, aligned: Wave) -> Wave:
    """The impulse response from what was played to what was heard: Wiener's normal equations."""
    from scipy.linalg import solve_toeplitz
    from scipy.signal import correlate

    zero_lag = len(heard) - 1
    auto = correlate(aligned, aligned, method="fft")[zero_lag : zero_lag + TAPS]
    cross = correlate(heard, aligned, method="fft")[zero_lag : zero_lag + TAPS]
    auto[0] = auto[0] * (1 + LOADING) + 1e-9
    return np.asarray(solve_toeplitz(auto, cross))
