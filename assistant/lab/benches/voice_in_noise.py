"""What the shaping of the voice is worth beside an engine, for `footplate bench voice`.

ESTOI (Jensen and Taal, 2016), a measure of how much of speech in noise is understood, of the plain
voice and of the shaped one, both against the plain voice in quiet: what the shaping spoils counts
against it. Plain and shaped have the same highest sample and meet the same noise, so a ratio is
always that of the plain voice: its power while it speaks over the noise's.
"""

from __future__ import annotations

import warnings
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from assistant.devices.loud_speech import shaped
from assistant.devices.sound import Clip, at_rate
from assistant.devices.voice import SpokenVoice, Voice
from assistant.errors import WorldFailedError
from assistant.lab.benches.own_sentences import OwnSentence
from assistant.lab.benches.table import Column, ResultTable
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound
from assistant.recogniser.snr import FRAME, active_rms, frame_powers
from assistant.simulator.noise import engine_noise

NOISES = ("blower", "chuff", "valve", "wind")
"""Those that last: a clank is over before a word is."""
LEVELS_DB = (-5.0, 0.0, 5.0)
OWED_DB = (8.0, 7.0, 6.0)
"""By so much more noise the shaped voice is understood as well, at each of the levels."""
GRID_DB = tuple(float(db) for db in range(-20, 9, 2))
"""Ratios at which the shaped voice is measured; between them lies a straight line."""
MOST_PEAK_DB = -1.0
CARD_HZ = 48_000  # what a sound card takes where it does not take the voice's own rate
_MEASURED_HZ = 10_000  # ESTOI's own rate
_SHORTEST_S = 0.5  # ESTOI wants 0.4 s of speech without the silence around it
_SPEECH_DB = 40.0  # what lies farther under the loudest is silence to it

Figures = npt.NDArray[np.float64]


def estoi() -> Any:
    """The measure as a function of quiet speech and noisy; WorldFailedError with what to do."""
    try:
        from pystoi import stoi
    except ImportError:
        raise WorldFailedError(
            "bench voice needs pystoi, which is not installed: get what the tests need with "
            "sh .ci/setup dev, or it alone with .venv/bin/python -m pip install pystoi"
        ) from None
    return stoi


@dataclass(frozen=True, slots=True, eq=False)
class Spoken:
    """One sentence of the assistant's voice, plain and shaped, as they are played."""

    sentence: OwnSentence
    plain: Clip
    shaped: Clip

    def heard(self) -> tuple[Sound, Sound]:
        """Both at the rate of the noises, of one length."""
        both = [at_rate(clip, SPEECH_RATE_HZ).samples for clip in (self.plain, self.shaped)]
        count = min(map(len, both))
        return both[0][:count], both[1][:count]


def spoken(
    sentences: Sequence[OwnSentence], count: int, voice: Voice | None = None
) -> list[Spoken]:
    """The first `count` of them that are long enough to be measured, by the voice of a live run.

    Raises WorldFailedError where the voice does not speak.
    """
    own = voice or SpokenVoice()
    made: list[Spoken] = []
    try:
        for sentence in sentences:
            clip = own.make(sentence.text, sentence.pace_wpm)
            if clip is None:
                raise WorldFailedError(f"the voice does not speak: {getattr(own, 'trouble', '')}")
            if _speech_s(clip) >= _SHORTEST_S:
                made.append(Spoken(sentence, clip, Clip(shaped(clip.samples), clip.rate_hz)))
            if len(made) == count:
                break
    finally:
        own.close()
    return made


def _speech_s(clip: Clip) -> float:
    powers = frame_powers(at_rate(clip, SPEECH_RATE_HZ).samples)
    loud = powers > powers.max() * 10 ** (-_SPEECH_DB / 10)
    return float(loud.sum()) * FRAME / SPEECH_RATE_HZ


def noise_beside(plain: Sound, kind: str, seed: Sequence[int]) -> Sound:
    """Noise as long as the sentence and as loud as the plain voice while it speaks (0 dB)."""
    noise = engine_noise(kind, len(plain) / SPEECH_RATE_HZ + 0.1, np.random.default_rng(seed))
    under = noise[: len(plain)]
    return (under * (active_rms(plain) / float(np.sqrt(np.mean(under**2))))).astype(np.float32)


@dataclass(frozen=True, slots=True)
class Understood:
    """ESTOI of every sentence in every noise: (noise, sentence, ratio)."""

    plain: Figures
    """At `LEVELS_DB`."""
    shaped: Figures
    """At `GRID_DB`."""


def understood(voices: Sequence[Spoken], noises: Sequence[str] = NOISES) -> Understood:
    """Measure; a sentence meets the same noise plain and shaped and at every ratio."""
    measure = estoi()
    found: tuple[list[list[list[float]]], list[list[list[float]]]] = ([], [])
    with warnings.catch_warnings():
        warnings.simplefilter("error")  # a sentence too short to be measured is no figure
        for kind in noises:
            for rows in found:
                rows.append([])
            for number, one in enumerate(voices):
                plain, bright = one.heard()
                noise = _slow(noise_beside(plain, kind, [number, *kind.encode()]))
                quiet = _slow(plain)
                for rows, voice, ratios in (
                    (found[0], quiet, LEVELS_DB), (found[1], _slow(bright), GRID_DB)
                ):  # fmt: skip
                    noisy = (voice + noise * 10 ** (-db / 20) for db in ratios)
                    rows[-1].append(
                        [float(measure(quiet, x, _MEASURED_HZ, extended=True)) for x in noisy]
                    )
    return Understood(np.array(found[0]), np.array(found[1]))


def _slow(sound: Sound) -> Figures:
    return at_rate(Clip(sound, SPEECH_RATE_HZ), _MEASURED_HZ).samples.astype(np.float64)


def gains_db(plain: Sequence[float], bright: Sequence[float]) -> list[float | None]:
    """By how much lower a ratio the shaped voice is as well understood, at each level.

    plain: mean ESTOI at `LEVELS_DB`; bright: of the shaped voice, at `GRID_DB`. None: it is
    nowhere on the grid.

    >>> gains_db([0.1, 0.3, 2.0], [0.02 * (db + 20.0) for db in GRID_DB])
    [10.0, 5.0, None]
    """
    rising = np.maximum.accumulate(np.asarray(bright))
    return [
        round(level - float(np.interp(value, rising, GRID_DB)), 6)
        if rising[0] <= value <= rising[-1]
        else None
        for level, value in zip(LEVELS_DB, plain, strict=True)
    ]


def peak_db(voices: Sequence[Spoken], rate_hz: int | None = None) -> float:
    """The highest peak of the shaped sentences over full scale, at their own rate or another."""
    clips = [one.shaped if rate_hz is None else at_rate(one.shaped, rate_hz) for one in voices]
    return max(20.0 * float(np.log10(np.abs(clip.samples).max())) for clip in clips)


_TABLE = ResultTable(
    12,
    *(Column(f"plain {db:+.0f}", 10, ".3f") for db in LEVELS_DB),
    *(Column(f"gain {db:+.0f}", 9, ".1f") for db in LEVELS_DB),
    corner="noise",
)


def bench_lines(voices: Sequence[Spoken]) -> Iterator[str]:
    """The table of ESTOI and gains, whether what is owed is met, and the peaks."""
    yield (
        f"{len(voices)} sentences of the program's own, each beside {len(NOISES)} noises. Mean "
        "ESTOI of the plain voice at three ratios (its power while it speaks over the noise's, dB)"
    )
    yield "and by how many dB more noise the shaped voice, of the same peak, has the same ESTOI:"
    yield _TABLE.header()
    found = understood(voices)
    for place, kind in enumerate(NOISES):
        yield _row(kind, found.plain[place : place + 1], found.shaped[place : place + 1])
    yield _row("all", found.plain, found.shaped)
    yield ""
    yield verdict(_gains(found.plain, found.shaped), peak_db(voices))
    yield f"highest peak after the change to {CARD_HZ} Hz: {peak_db(voices, CARD_HZ):.2f} dB"


def _gains(plain: Figures, bright: Figures) -> list[float | None]:
    return gains_db(plain.mean((0, 1)).tolist(), bright.mean((0, 1)).tolist())


def _row(label: str, plain: Figures, bright: Figures) -> str:
    return _TABLE.row(label, *plain.mean((0, 1)).tolist(), *_gains(plain, bright))


def verdict(gains: Sequence[float | None], highest_db: float) -> str:
    """Whether what is owed is met.

    >>> verdict([8.0, 7.5, None], -1.01)
    'owed over all: 8 / 7 / 6 dB (8.0 / 7.5 / -), no peak over -1 dB (-1.01): NOT MET'
    """
    enough = all(g is not None and g >= owed for g, owed in zip(gains, OWED_DB, strict=True))
    met = enough and highest_db <= MOST_PEAK_DB
    return (
        f"owed over all: {' / '.join(f'{db:.0f}' for db in OWED_DB)} dB "
        f"({' / '.join('-' if g is None else f'{g:.1f}' for g in gains)}), "
        f"no peak over {MOST_PEAK_DB:.0f} dB ({highest_db:.2f}): {'met' if met else 'NOT MET'}"
    )
