"""Noise by the name of its kind: synthetic kinds, and the owner's recordings of an engine.

A recording is a sound file; its kind is the file's name. Knows files and arrays.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

import numpy as np

from assistant.config.suggest import did_you_mean, in_quotes
from assistant.devices.noise_level import measure_noise
from assistant.devices.sound import FILE_KINDS, Clip, at_rate, read_clip
from assistant.errors import InputWrongError
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound
from assistant.simulator.noise import KINDS, engine_noise

ANY_OF_THEM = "recorded"  # a kind: one of the recordings, drawn each time
_SHORTEST_S = 5.0  # shorter noise audibly repeats under a sentence. Judgement
JOIN_S = 0.05  # cross-fade from the end of a recording into its beginning


class Noises:
    """Noise of any kind, by name. recorded: the owner's recordings."""

    def __init__(self, recorded: Mapping[str, Sound] | None = None) -> None:
        self._recorded = dict(recorded or {})

    @property
    def kinds(self) -> tuple[str, ...]:
        """All kinds: the synthetic ones, then the recordings."""
        return (*KINDS, *self._recorded)

    def __call__(self, kind: str, seconds: float, rng: np.random.Generator) -> Sound:
        """So many seconds, 16 kHz mono. A recording is looped from a random start, at its level.

        >>> noises = Noises({"mine.flac": np.full(80_000, 0.1, np.float32)})
        >>> len(noises("mine.flac", 7.0, np.random.default_rng(1)))
        112000
        """
        if kind == ANY_OF_THEM and self._recorded:
            kind = tuple(self._recorded)[int(rng.integers(len(self._recorded)))]
        sound = self._recorded.get(kind)
        if sound is None:
            return engine_noise(kind, seconds, rng)
        start = int(rng.integers(len(sound)))
        return sound.take(range(start, start + int(seconds * SPEECH_RATE_HZ)), mode="wrap")


def read_noise(file: Path) -> Sound:
    """A recording at 16 kHz that can be looped.

    Raises InputWrongError for a missing file, no sound file, less than `_SHORTEST_S`, or silence.
    """
    if not file.is_file():
        raise InputWrongError(f"{file}: no such file")
    clip = at_rate(read_clip(file), SPEECH_RATE_HZ)
    if clip.duration_s < _SHORTEST_S:
        raise InputWrongError(
            f"{file}: too short to stand for an engine ({clip.duration_s:.1f} s; "
            f"at least {_SHORTEST_S:.0f} s are wanted)"
        )
    if measure_noise(Clip(clip.samples, SPEECH_RATE_HZ)).silent:
        raise InputWrongError(f"{file}: there is only silence in it")
    return _looped(clip.samples)


def _looped(sound: Sound) -> Sound:
    """The end cross-faded into the beginning, so that it loops without a click."""
    count = int(JOIN_S * SPEECH_RATE_HZ)
    rising = np.sin(np.linspace(0.0, np.pi / 2, count))  # equal power: the two are uncorrelated
    joint = sound[:count] * rising + sound[-count:] * rising[::-1]
    return np.concatenate([joint, sound[count:-count]]).astype(np.float32)


def recordings(folder: Path) -> list[Path]:
    """The recordings in a folder, by name; none if there is no folder."""
    files = folder.iterdir() if folder.is_dir() else ()
    return sorted(file for file in files if file.suffix.lower() in FILE_KINDS)


def noises_for(wanted: Sequence[str], folder: Path) -> tuple[Noises, tuple[str, ...]]:
    """A source of the kinds that are wanted, and the names it knows them by.

    wanted: a synthetic kind, `ANY_OF_THEM`, a recording in the folder by its name (the ending may
    be left out), or a sound file. Raises InputWrongError for anything else.
    """
    available = recordings(folder)
    sounds: dict[str, Sound] = {}
    names: list[str] = []
    for kind in wanted:
        if kind in KINDS:
            names.append(kind)
            continue
        for file in _files(kind, available, folder):
            sounds.setdefault(file.name, read_noise(file))
        names.append(kind if kind == ANY_OF_THEM else file.name)
    return Noises(sounds), tuple(dict.fromkeys(names))


def _files(kind: str, available: Sequence[Path], folder: Path) -> Sequence[Path]:
    """The files that a kind names, one at least; InputWrongError if it names none."""
    if kind == ANY_OF_THEM:
        if available:
            return available
        raise InputWrongError(
            f"no noise was recorded yet: `footplate devices --record-noise` keeps it in {folder}"
        )
    named = [file for file in available if kind in (file.name, file.stem)]
    if named:
        return named[:1]
    path = Path(kind)
    if path.suffix or len(path.parts) > 1:
        return [path]
    names = (*KINDS, ANY_OF_THEM, *(file.name for file in available))
    raise InputWrongError(
        f"no noise called {in_quotes(kind)}{did_you_mean(kind, names)}; "
        "a sound file will do as well"
    )
