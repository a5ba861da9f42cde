"""Speech or not, and where it ends. Knows blocks of sound, no clock and no words.

The only module that imports onnxruntime. The network is Silero's (MIT); its own package would pull
in a large library, so only the file inside it is used.
"""

from __future__ import annotations

import importlib.util
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from assistant.errors import WorldFailedError
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound

STEP = 512  # samples, the network's step: 32 ms
_CONTEXT = 64  # samples of the block before that the network also wants

SpeechProbability = Callable[[Sound], float]
"""The probability of speech in a block, from blocks in order."""


@dataclass(frozen=True, slots=True)
class Detection:
    """Speech began (`sound` None), or ended and was this sound."""

    sound: Sound | None = None


@dataclass(frozen=True, slots=True)
class DetectorLimits:
    """When speech begins and ends.

    high, low: chance above which a block starts speech, and below which it may end it. start_s:
    speech needed to begin. gap_s: silence that ends it; the pause inside "one ... two zero" is
    shorter. before_s, after_s: sound kept around the speech. longest_s: then it ends in any case.
    Measured on 60 readings of people: the end found 0.7 s after the last word, at 95 % too; over
    engine noise of 10 dB 0.7 s and 0.9 s (with a `low` of 0.35: 1.3 s).
    """

    high: float = 0.5
    low: float = 0.5
    start_s: float = 0.09
    gap_s: float = 0.6
    before_s: float = 0.3
    after_s: float = 0.3
    longest_s: float = 8.0


FOR_NOTES = DetectorLimits(gap_s=1.5, longest_s=30.0)  # people think while they say one (judgement)


def network_file() -> Path:
    """The network inside its package; WorldFailedError if that is not installed."""
    spec = importlib.util.find_spec("silero_vad")
    found = Path(spec.origin).parent / "data" / "silero_vad.onnx" if spec and spec.origin else None
    if found is None or not found.is_file():
        raise WorldFailedError("the speech detector is missing: install the set-up's packages")
    return found


class SileroProbability:
    """The network with its memory, fed block by block."""

    def __init__(self, file: Path | None = None) -> None:
        import onnxruntime

        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = options.inter_op_num_threads = 1
        options.log_severity_level = 3
        try:
            self._session = onnxruntime.InferenceSession(
                str(file or network_file()), options, providers=["CPUExecutionProvider"]
            )
        except Exception as error:  # the library's own classes share no useful base
            raise WorldFailedError(f"the speech detector cannot be loaded ({error})") from error
        self._rate = np.array(SPEECH_RATE_HZ, dtype=np.int64)
        self.reset()

    def reset(self) -> None:
        """Forget the sound so far."""
        self._state = np.zeros((2, 1, 128), np.float32)
        self._before = np.zeros(_CONTEXT, np.float32)

    def __call__(self, block: Sound) -> float:
        """Chance of speech in this block of BLOCK samples."""
        fed = np.concatenate([self._before, block])[None].astype(np.float32)
        out, self._state = self._session.run(
            None, {"input": fed, "state": self._state, "sr": self._rate}
        )
        self._before = fed[0, -_CONTEXT:]
        return float(out[0, 0])


class Detector:
    """Turns blocks into utterances. Give `chance` another function to test without the network."""

    def __init__(
        self, chance: SpeechProbability | None = None, limits: DetectorLimits = DetectorLimits()
    ) -> None:
        self._chance = chance if chance is not None else SileroProbability()
        self._limits = limits
        self._muted = False
        self._before: deque[Sound] = deque(maxlen=_blocks(limits.before_s + limits.start_s))
        self.reset()

    def reset(self) -> None:
        """Forget what was heard so far; an utterance in the middle is dropped."""
        if isinstance(self._chance, SileroProbability):
            self._chance.reset()
        self._before.clear()
        self._held: list[Sound] = []  # of the utterance; empty outside one
        self._run = 0  # blocks of speech in a row
        self._quiet = 0  # blocks since speech was last heard

    def keep_to(self, limits: DetectorLimits) -> None:
        """From now on speech begins and ends by these limits."""
        self._limits = limits

    def mute(self) -> None:
        """Hear nothing from now on: we speak ourselves."""
        self.reset()
        self._muted = True

    def unmute(self) -> None:
        """Hear again."""
        self._muted = False

    def feed(self, block: Sound) -> list[Detection]:
        """What this block of BLOCK samples brought: nothing, a beginning, or an utterance."""
        if self._muted:
            return []
        chance = self._chance(block)
        return self._inside(block, chance) if self._held else self._outside(block, chance)

    def _outside(self, block: Sound, chance: float) -> list[Detection]:
        self._before.append(block)
        self._run = self._run + 1 if chance >= self._limits.high else 0
        if self._run < _blocks(self._limits.start_s):
            return []
        self._held, self._quiet = list(self._before), 0
        return [Detection()]

    def _inside(self, block: Sound, chance: float) -> list[Detection]:
        self._held.append(block)
        self._quiet = self._quiet + 1 if chance < self._limits.low else 0
        ended = self._quiet >= _blocks(self._limits.gap_s)
        if not ended and len(self._held) < _blocks(self._limits.longest_s):
            return []
        surplus = max(0, self._quiet - _blocks(self._limits.after_s))
        sound = np.concatenate(self._held[: len(self._held) - surplus])
        self._held, self._run = [], 0
        self._before.clear()
        return [Detection(sound)]


def _blocks(seconds: float) -> int:
    return round(seconds * SPEECH_RATE_HZ / STEP)


def utterance(sound: Sound, limits: DetectorLimits = DetectorLimits()) -> Sound:
    """The speech of a recording, from the first to the last heard; all of it if none is found."""
    chance = SileroProbability()
    filled = np.pad(sound, (0, -len(sound) % STEP)).astype(np.float32)
    blocks = filled.reshape(-1, STEP)
    heard = [at for at, block in enumerate(blocks) if chance(block) >= limits.high]
    if not heard:
        return sound
    first = max(0, heard[0] * STEP - round(limits.before_s * SPEECH_RATE_HZ))
    return sound[first : (heard[-1] + 1) * STEP + round(limits.after_s * SPEECH_RATE_HZ)]
