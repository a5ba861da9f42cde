"""A corpus of tones, small enough for any test of training."""

from __future__ import annotations

import numpy as np

from assistant.enrolment.clip_corpus import LabelledClip
from assistant.lab.tuning.training_corpus import TrainingCorpus
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound


def hum(hz: float, seconds: float = 0.5) -> Sound:
    """A steady tone."""
    at = np.arange(int(seconds * SPEECH_RATE_HZ)) / SPEECH_RATE_HZ
    return (0.2 * np.sin(2 * np.pi * hz * at)).astype(np.float32)


TONE_DIGITS = {digit: [hum(200 + 40 * digit)] for digit in range(10)}
SMALL_CORPUS = TrainingCorpus(
    (
        LabelledClip(hum(300), ("water", "half"), "flite:slt", "statistical", "Water half."),
        LabelledClip(hum(400), ("say", "again"), "espeak-ng:en-us", "formant", ""),
        LabelledClip(hum(500), ("a", "latte"), "one.wav", "orders", "Can I get a latte."),
    ),
    ("Pressure.",),
    {"anna": TONE_DIGITS, "bert": TONE_DIGITS, "formant/espeak-ng:en-us": TONE_DIGITS},
)


def first_text(sounds: object, prompts: object, texts: object) -> list[str]:
    """The first of each row of texts, in place of the recogniser's favourite."""
    assert isinstance(texts, list)
    return [choices[0] for choices in texts]
