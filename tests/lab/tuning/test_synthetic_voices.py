"""Synthetic voices: each group in turn, at one level, and none where no synthesiser is."""

from __future__ import annotations

import numpy as np
import pytest
from small_corpus import hum

from assistant.errors import WorldFailedError
from assistant.grammar import numbers
from assistant.lab.tuning import synthetic_voices
from assistant.lab.tuning.sentences import grammar_sentences
from assistant.lab.tuning.training_corpus import PEAK
from assistant.recogniser.base import Sound


def test_without_a_synthesiser_it_says_what_to_install() -> None:
    def dumb(program: str, voice: str, text: str, speed: float) -> Sound:
        raise WorldFailedError("none")

    with pytest.raises(WorldFailedError, match="install flite or espeak-ng"):
        synthetic_voices.usable(dumb)


def test_voices_speak_in_turn_and_at_one_level() -> None:
    def speak(program: str, voice: str, text: str, speed: float) -> Sound:
        return hum(200.0 + len(voice), 0.3 / speed)

    groups = synthetic_voices.usable(speak)
    spoken = list(grammar_sentences(12, np.random.default_rng(1)))
    clips = list(
        synthetic_voices.spoken_clips(spoken, speak, groups, np.random.default_rng(1), True)
    )
    assert {clip.group for clip in clips} == set(synthetic_voices.GROUPS)
    assert all(np.abs(clip.sound).max() == pytest.approx(PEAK) for clip in clips)
    digits = list(synthetic_voices.spoken_digits(speak, {"spliced": groups["spliced"]}))
    assert len(digits) == 10 * len(synthetic_voices.PACES) * len(groups["spliced"])
    accented = list(synthetic_voices.spoken_digits(speak, {"formant": groups["formant"]}))
    hindi = [clip for clip in accented if clip.speaker == "espeak-ng:hi+f2"]
    assert [clip.words[0] for clip in hindi[::2]] == list(numbers.DIGITS), (
        "two speeds of each digit"
    )
    unheard = {name for _, name in synthetic_voices.UNHEARD_VOICES}
    trained_on = {name for voices in synthetic_voices.GROUPS.values() for _, name in voices} | {
        *synthetic_voices.DIGIT_VOICES
    }
    assert not unheard & trained_on, "who is evaluated on is not trained on"
