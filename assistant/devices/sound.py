"""A piece of sound: its samples and their rate; resampling, reading and writing files."""

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
    """One channel of sound."""

    samples: Samples  # float32 within -1..1
    rate_hz: int  # samples a second

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
    """A sound file, its channels averaged to one; InputWrongError when it cannot be read."""
    import soundfile

    if path.exists() and not path.is_file():
        raise InputWrongError(f"{path}: not an ordinary file")
    try:
        samples, rate_hz = soundfile.read(path, dtype="float32", always_2d=True)
    except (OSError, RuntimeError) as error:
        raise InputWrongError(f"{path}: not a sound file that can be read ({error})") from error
    return Clip(samples.mean(axis=1, dtype=np.float32), int(rate_hz))


def read_samples(path: Path) -> Samples:
    """A sound file as one channel at SPEECH_RATE_HZ; InputWrongError when it cannot be read."""
    return at_rate(read_clip(path), SPEECH_RATE_HZ).samples


def as_flac(clip: Clip) -> bytes:
    """The bytes of a 16-bit FLAC file, which browsers play too."""
    return as_file(clip, "FLAC")


def as_file(clip: Clip, kind: str) -> bytes:
    """The bytes of a 16-bit sound file. kind: one of the values of `FILE_KINDS`."""
    import soundfile

    buffer = io.BytesIO()
    soundfile.write(buffer, np.clip(clip.samples, -1.0, 1.0), clip.rate_hz, "PCM_16", format=kind)
    return buffer.getvalue()


def blocks(samples: Samples, size: int = BLOCK) -> list[Samples]:
    """Equal blocks, the last one filled up with silence.

    >>> [len(block) for block in blocks(np.zeros(5, np.float32), 4)]
    [4, 4]
    """
    missing = -len(samples) % size
    padded = np.concatenate([samples, np.zeros(missing, np.float32)])
    return [padded[start : start + size] for start in range(0, len(padded), size)]
