"""Recorded noise of engines, machinery, weather and crowds. Knows a folder's table and sounds.

Recordings: folder with noise/ (each recording under a licence of its own, none is part of the
project). Split by recording, so that what is heard in was never learnt under.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from assistant.devices.sound import read_samples
from assistant.lab.benches.recordings import labels_in
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound

_LEFT_OUT = 34  # of a hundred recordings
_RMS = 0.05  # of full scale, as noise made by program
_BOUND = ("SA", "GPL")  # licences whose terms would pass to what is learnt


@dataclass(frozen=True, slots=True)
class NoiseRecording:
    """One recording."""

    file: Path
    kind: str
    """ "engine ticking", "chuff", "rain" and others."""
    group: str
    """Pieces of one original have the same."""
    author: str
    licence: str

    @property
    def left_out(self) -> bool:
        """Whether it is only heard in, and never learnt under."""
        drawn = hashlib.sha256(f"noise/{self.group}".encode()).digest()
        bound = any(word in self.licence for word in _BOUND)
        return bound or int.from_bytes(drawn[:4], "big") % 100 < _LEFT_OUT


@cache
def noise_recordings(recordings: Path) -> tuple[NoiseRecording, ...]:
    """All of them, by name; none where there is no noise/labels.csv."""
    folder = recordings / "noise"
    return tuple(
        NoiseRecording(
            folder / row["file"], row["kind"], row["group"], row["author"], row["licence"]
        )
        for row in labels_in(folder)
    )


def noises_to_learn_under(recordings: Path) -> tuple[Sound, ...]:
    """The sounds that may be learnt under."""
    return tuple(read_samples(one.file) for one in noise_recordings(recordings) if not one.left_out)


@dataclass(frozen=True, slots=True)
class LeftOutNoise:
    """A `Noise` of the recordings that nothing was learnt under."""

    recordings: Path

    @property
    def kinds(self) -> tuple[str, ...]:
        """Kinds of which there is a recording."""
        return tuple(
            sorted({one.kind for one in noise_recordings(self.recordings) if one.left_out})
        )

    def __call__(self, kind: str, seconds: float, rng: np.random.Generator) -> Sound:
        """A stretch of one of them at an RMS of 0.05 of full scale; kind "mix": of any kind."""
        possible = [
            one
            for one in noise_recordings(self.recordings)
            if one.left_out and kind in ("mix", one.kind)
        ]
        sound = _read(possible[int(rng.integers(len(possible)))].file)
        count = int(seconds * SPEECH_RATE_HZ)
        stretch = np.roll(sound, -int(rng.integers(len(sound))))
        stretch = np.resize(stretch, count)
        rms = max(1e-9, float(np.sqrt(np.mean(stretch**2))))
        return np.asarray(_RMS / rms * stretch, dtype=np.float32)


@cache
def _read(file: Path) -> Sound:
    return read_samples(file)
