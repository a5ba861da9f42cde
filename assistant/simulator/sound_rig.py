"""From the operator's words to `Heard` in a rehearsal: voice, room, noise, detector, recogniser.

Each utterance goes through the same detector and recognisers as one from a microphone.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np

from assistant.messages import SPEECH_RATE_HZ, Expected, Heard
from assistant.recogniser.base import Sound
from assistant.recogniser.pipeline import RecognitionPipeline
from assistant.recogniser.typed_recogniser import hear_typed
from assistant.simulator.noise import Surroundings
from assistant.simulator.voices import SynthesiserVoice, in_a_room, speak


@dataclass
class SoundRig:
    """An operator's voice in front of the detector and the recognisers."""

    voice: SynthesiserVoice
    hearer: RecognitionPipeline
    utterances: Callable[[Sound], list[Sound]]
    """The segments of speech that a fresh detector finds in a sound."""
    rng: np.random.Generator
    where: Surroundings = field(default_factory=Surroundings)
    play: Callable[[Sound], None] = lambda sound: None
    """Called with each sound, to make it audible."""

    def say(self, words: str) -> Sound:
        """The words as the microphone receives them."""
        pace = round(float(self.rng.uniform(0.9, 1.05)), 2)
        sound = in_a_room(speak(self.voice, words, pace), self.rng)
        return self.where.with_noise(sound, self.rng)

    def hear(self, words: str, expected: Expected, at: float) -> tuple[float, list[Heard]]:
        """Seconds of sound, and one `Heard` for each utterance the detector finds in it."""
        sound = self.say(words)
        self.play(sound)
        heard = [self.hearer.heard(part, expected, at) for part in self.utterances(sound)]
        return len(sound) / SPEECH_RATE_HZ, heard


class TypedRig:
    """The same without sound: words as if typed, for quick tests of everything else."""

    def hear(self, words: str, expected: Expected, at: float) -> tuple[float, list[Heard]]:
        """One second, and the words with certainty; no alternative if the grammar lacks them."""
        return 1.0, [hear_typed(words, expected, at)]
