"""Takes our own voice out of what the microphone heard while we spoke. Pure sums over samples.

What was played is known, so its way through speaker, room and microphone is found by least squares
over the very stretch that was recorded, and what it explains is taken off. Somebody who speaks
meanwhile is no part of what was played and stays.
"""

from __future__ import annotations

import threading
from collections import deque

import numpy as np
import numpy.typing as npt

from assistant.devices.clock import Clock
from assistant.devices.sound import Clip, Samples, at_rate
from assistant.messages import SPEECH_RATE_HZ

REACH_S = 1.5  # the echo may be late by this much: buffers on both ways, and an idle sound server
TAPS = 1600  # 0.1 s of the room
BEFORE = 160  # taps ahead of the loudest path: the first sound need not be the loudest
WHITENING = 0.8
LOADING = 1e-3  # of the power, added to the diagonal: keeps the quiet bands from being amplified

Wave = npt.NDArray[np.float64]


class EchoReference:
    """Remembers what was played and when; written in one thread, read in another."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._played: deque[tuple[float, Samples]] = deque(maxlen=16)
        self._lock = threading.Lock()

    def began(self, clip: Clip) -> None:
        """This began to be played now."""
        now_s = self._clock.now()
        with self._lock:
            self._played.append((now_s, at_rate(clip, SPEECH_RATE_HZ).samples))

    def ended(self) -> None:
        """The last sound ended now, early if it was hushed."""
        now_s = self._clock.now()
        with self._lock:
            if self._played:
                began_s, samples = self._played[-1]
                length = max(0, round((now_s - began_s) * SPEECH_RATE_HZ))
                self._played[-1] = (began_s, samples[:length])

    def sent(self, from_s: float, length: int) -> Samples:
        """What was sent to the speaker from then on, so many samples at 16 kHz."""
        out = np.zeros(length, np.float32)
        with self._lock:
            played = list(self._played)
        for began_s, samples in played:
            first = round((began_s - from_s) * SPEECH_RATE_HZ)
            part = samples[max(0, -first) : max(0, length - first)]
            out[max(0, first) : max(0, first) + len(part)] = part
        return out


def cancel_echo(recorded: Samples, sent: Samples) -> Samples:
    """What remains of a recording when its echo of `sent` is taken off; both at 16 kHz.

    sent: what went to the speaker from REACH_S before the recording began until its end.
    """
    if not np.any(sent):
        return recorded
    from scipy.signal import fftconvolve

    heard = np.asarray(recorded, np.float64)
    late = _lined_up(heard, np.asarray(sent, np.float64))
    return np.asarray(heard - fftconvolve(late, _path(heard, late))[: len(heard)], np.float32)


def _lined_up(heard: Wave, sent: Wave) -> Wave:
    """`sent` moved so that its echo comes a little late, as long as `heard`."""
    size = 1 << (len(sent) + len(heard) - 1).bit_length()
    cross = np.fft.rfft(sent, size) * np.conj(np.fft.rfft(heard, size))
    # Whitened in part: a voiced sound matches itself a pitch period away nearly as well.
    match = np.fft.irfft(cross / (np.abs(cross) + 1e-12) ** WHITENING, size)
    start = int(np.argmax(np.abs(match[: len(sent) - len(heard) + 1]))) + BEFORE
    late = np.zeros(len(heard))
    part = sent[start : start + len(heard)]
    late[: len(part)] = part
    return late


def _path(heard: Wave, late: Wave) -> Wave:
    """The impulse response from what was sent to what was heard: Wiener's normal equations."""
    from scipy.linalg import solve_toeplitz
    from scipy.signal import correlate

    here = len(heard) - 1
    own = correlate(late, late, method="fft")[here : here + TAPS]
    cross = correlate(heard, late, method="fft")[here : here + TAPS]
    own[0] = own[0] * (1 + LOADING) + 1e-9
    return np.asarray(solve_toeplitz(own, cross))
