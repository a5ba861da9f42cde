"""Noise by the name of its kind: the kinds made here, and the owner's own recordings of an engine.

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

ANY_OF_THEM = "recorded"  # the kind that draws one of the recordings each time
_SHORTEST_S = 5.0  # less would be heard to repeat itself under a sentence. Judgement
JOIN_S = 0.05


class Noises:
    """Gives so many seconds of noise of a kind. recorded: the owner's, by their names."""

    def __init__(self, recorded: Mapping[str, Sound] | None = None) -> None:
        self._recorded = dict(recorded or {})

    @property
    def kinds(self) -> tuple[str, ...]:
        """All there are: first those that are made, then the recordings."""
        return (*KINDS, *self._recorded)

    def __call__(self, kind: str, seconds: float, rng: np.random.Generator) -> Sound:
        """16 kHz mono. A recording at its own level, from anywhere in it, round to its beginning.

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
    """A recording at 16 kHz whose end runs into its beginning; InputWrongError if it is of no use.

    Of no use: no such file, no sound file, shorter than `_SHORTEST_S`, silence.
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
    return _joined(clip.samples)


def _joined(sound: Sound) -> Sound:
    """The last of it faded into the first, so that it can go round without a click."""
    count = int(JOIN_S * SPEECH_RATE_HZ)
    rising = np.sin(np.linspace(0.0, np.pi / 2, count))  # powers add up: the two are not alike
    joint = sound[:count] * rising + sound[-count:] * rising[::-1]
    return np.concatenate([joint, sound[count:-count]]).astype(np.float32)


def recordings(folder: Path) -> list[Path]:
    """The recordings in a folder, by name; none where there is no folder."""
    found = folder.iterdir() if folder.is_dir() else ()
    return sorted(file for file in found if file.suffix.lower() in FILE_KINDS)


def noises_for(wanted: Sequence[str], folder: Path) -> tuple[Noises, tuple[str, ...]]:
    """What gives the kinds that are wanted, and their names as it knows them.

    wanted: kinds made here, `ANY_OF_THEM`, a recording in the folder by its name (its end may be
    left out), or a sound file. InputWrongError for anything else.
    """
    kept = recordings(folder)
    read: dict[str, Sound] = {}
    names: list[str] = []
    for kind in wanted:
        if kind in KINDS:
            names.append(kind)
            continue
        for file in _files(kind, kept, folder):
            read.setdefault(file.name, read_noise(file))
        names.append(kind if kind == ANY_OF_THEM else file.name)
    return Noises(read), tuple(dict.fromkeys(names))


def _files(kind: str, kept: Sequence[Path], folder: Path) -> Sequence[Path]:
    """The files meant by a kind that is not made here; never none."""
    if kind == ANY_OF_THEM:
        if kept:
            return kept
        raise InputWrongError(
            f"no noise was recorded yet: `footplate devices --record-noise` keeps it in {folder}"
        )
    named = [file for file in kept if kind in (file.name, file.stem)]
    if named:
        return named[:1]
    path = Path(kind)
    if path.suffix or len(path.parts) > 1:
        return [path]
    there = (*KINDS, ANY_OF_THEM, *(file.name for file in kept))
    raise InputWrongError(
        f"no noise called {in_quotes(kind)}{did_you_mean(kind, there)}; "
        "a sound file will do as well"
    )
