"""The ears in use, as one: sound and what is expected in, a `Heard` out. Knows no clock.

Which ears there are is chosen in `choose`; what several of them come to in `opinion`.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.hearing.ear import RATE_HZ, Ear, Opinion, Sound
from assistant.messages import Expected, Heard
from assistant.talk.phrases import grammar


@dataclass
class Hearer:
    """One ear behind the house's own grammar."""

    ear: Ear

    def prepare(self, expected: Expected) -> None:
        """Do now what can be done before the sound is there."""
        self.ear.prepare(grammar(expected))

    def heard(self, sound: Sound, expected: Expected, at: float) -> Heard:
        """What was heard in one utterance."""
        return as_heard(self.ear.hear(sound, grammar(expected)), at, len(sound) / RATE_HZ)


def as_heard(opinion: Opinion, at: float, audio_s: float) -> Heard:
    """An opinion as the event that goes into the book."""
    return Heard(
        at,
        opinion.ear,
        opinion.alternatives,
        opinion.log_ratio,
        opinion.average,
        round(audio_s, 3),
        opinion.alternatives[0].words if opinion.alternatives else opinion.text,
    )
