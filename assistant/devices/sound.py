"""A piece of sound: samples and their rate. Knows how to change the rate and read a file of it."""

from __future__ import annotations

import io
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt

from assistant.errors import InputWrongError
from assistant.messages import SPEECH_RATE_HZ

Samples = npt.NDArray[np.float32]

FILE_KINDS = {".flac": "FLAC", ".wav": "WAV"}  # by the end of a file's name
BLOCK = 512  # samples at SPEECH_RATE_HZ, 32 ms: the detector's own step


@dataclass(frozen=True, slots=True, eq=False)
class Clip:
    """One channel of sound. samples: float32 within -1..1; rate_hz: samples a second."""

    samples: Samples
    rate_hz: int

    @property
    def duration_s(self) -> float:
        """How long it takes to play, in seconds."""
        return len(self.samples) / self.rate_hz


def at_rate(clip: Clip, rate_hz: int) -> Clip:
    """The same sound at another sample rate.

    >>> at_rate(Clip(np.zeros(480, np.float32), 48_000), 16_000).samples.shape
    (160,)
    """
    if clip.rate_hz == rate_hz:
        return clip
    import soxr

    changed = soxr.resample(clip.samples, clip.rate_hz, rate_hz)
    return Clip(np.asarray(changed, dtype=np.float32), rate_hz)


def read_clip(path: Path) -> Clip:
    """One channel of a sound file, channels averaged; InputWrongError when it is none."""
    import soundfile

    try:
        samples, rate_hz = soundfile.read(path, dtype="float32", always_2d=True)
    except (OSError, RuntimeError) as error:
        raise InputWrongError(f"{path}: not a sound file that can be read ({error})") from error
    return Clip(samples.mean(axis=1, dtype=np.float32), int(rate_hz))


def read_samples(path: Path) -> Samples:
    """One channel of a sound file at SPEECH_RATE_HZ; InputWrongError when it is none."""
    return at_rate(read_clip(path), SPEECH_RATE_HZ).samples


def as_flac(clip: Clip) -> bytes:
    """A sound as the bytes of a FLAC file of 16 bits, which browsers play too."""
    return as_file(clip, "FLAC")


def as_file(clip: Clip, kind: str) -> bytes:
    """A sound as the bytes of a file of 16 bits. kind: one of `FILE_KINDS`' values."""
    import soundfile

    kept = io.BytesIO()
    soundfile.write(kept, np.clip(clip.samples, -1.0, 1.0), clip.rate_hz, "PCM_16", format=kind)
    return kept.getvalue()


def blocks(samples: Samples, size: int = BLOCK) -> list[Samples]:
    """Equal blocks, the last one filled up with silence.

    >>> [len(block) for block in blocks(np.zeros(5, np.float32), 4)]
    [4, 4]
    """
    short = -len(samples) % size
    padded = np.concatenate([samples, np.zeros(short, np.float32)])
    return [padded[start : start + size] for start in range(0, len(padded), size)]
