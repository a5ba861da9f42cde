"""Speech or not, and where it ends. Knows blocks of sound, no clock and no words.

The only module that imports onnxruntime. The network is Silero's (MIT), in `models/speech/`.
"""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from assistant.errors import WorldFailedError
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser import shipped
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
    """When speech begins and ends."""

    high: float = 0.5
    """Probability from which a block begins speech."""
    low: float = 0.5
    """Probability below which it may end it; a lower one delays the end in engine noise."""
    start_s: float = 0.09
    """Speech needed to begin."""
    gap_s: float = 0.6
    """Silence that ends it; the pause inside "one ... two zero" is shorter."""
    before_s: float = 0.3
    """Sound kept before the speech."""
    after_s: float = 0.3
    """Sound kept after it."""
    longest_s: float = 8.0
    """Then it ends in any case."""


FOR_NOTES = DetectorLimits(gap_s=1.5, longest_s=30.0)  # people think while they say one (judgement)


def network_file() -> Path:
    """The network; WorldFailedError if it is missing or another one."""
    return shipped.proved(shipped.DETECTOR)


class SileroProbability:
    """The network with its state, fed block by block."""

    def __init__(self, file: Path | None = None) -> None:
        os.environ.setdefault("ORT_DISABLE_TELEMETRY", "1")  # else it writes a device id at home
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
        """The probability of speech in this block of STEP samples."""
        fed = np.concatenate([self._before, block])[None].astype(np.float32)
        out, self._state = self._session.run(
            None, {"input": fed, "state": self._state, "sr": self._rate}
        )
        self._before = fed[0, -_CONTEXT:]
        return float(out[0, 0])


class Detector:
    """Turns blocks into utterances. probability: another than the network's, for tests."""

    def __init__(
        self,
        probability: SpeechProbability | None = None,
        limits: DetectorLimits = DetectorLimits(),
    ) -> None:
        self._probability = probability if probability is not None else SileroProbability()
        self._limits = limits
        self._muted = False
        self._before: deque[Sound] = deque(maxlen=_blocks(limits.before_s + limits.start_s))
        self.reset()

    def reset(self) -> None:
        """Forget what was heard so far; an utterance in the middle is dropped."""
        if isinstance(self._probability, SileroProbability):
            self._probability.reset()
        self._before.clear()
        self._utterance: list[Sound] = []  # its blocks; empty outside one
        self._run = 0  # blocks of speech in a row
        self._quiet = 0  # blocks since speech was last heard

    def keep_to(self, limits: DetectorLimits) -> None:
        """Use these limits from now on."""
        self._limits = limits

    def mute(self) -> None:
        """Hear nothing from now on: the program speaks."""
        self.reset()
        self._muted = True

    def unmute(self) -> None:
        """Hear again."""
        self._muted = False

    def feed(self, block: Sound) -> list[Detection]:
        """What this block of STEP samples brought: nothing, a beginning, or an utterance."""
        if self._muted:
            return []
        probability = self._probability(block)
        if self._utterance:
            return self._inside(block, probability)
        return self._outside(block, probability)

    def _outside(self, block: Sound, probability: float) -> list[Detection]:
        self._before.append(block)
        self._run = self._run + 1 if probability >= self._limits.high else 0
        if self._run < _blocks(self._limits.start_s):
            return []
        self._utterance, self._quiet = list(self._before), 0
        return [Detection()]

    def _inside(self, block: Sound, probability: float) -> list[Detection]:
        self._utterance.append(block)
        self._quiet = self._quiet + 1 if probability < self._limits.low else 0
        ended = self._quiet >= _blocks(self._limits.gap_s)
        if not ended and len(self._utterance) < _blocks(self._limits.longest_s):
            return []
        surplus = max(0, self._quiet - _blocks(self._limits.after_s))
        sound = np.concatenate(self._utterance[: len(self._utterance) - surplus])
        self._utterance, self._run = [], 0
        self._before.clear()
        return [Detection(sound)]


def _blocks(seconds: float) -> int:
    return round(seconds * SPEECH_RATE_HZ / STEP)


def utterance(sound: Sound, limits: DetectorLimits = DetectorLimits()) -> Sound:
    """A recording from its first to its last block of speech; all of it if none is found."""
    probability = SileroProbability()
    filled = np.pad(sound, (0, -len(sound) % STEP)).astype(np.float32)
    blocks = filled.reshape(-1, STEP)
    heard = [at for at, block in enumerate(blocks) if probability(block) >= limits.high]
    if not heard:
        return sound
    first = max(0, heard[0] * STEP - round(limits.before_s * SPEECH_RATE_HZ))
    return sound[first : (heard[-1] + 1) * STEP + round(limits.after_s * SPEECH_RATE_HZ)]
