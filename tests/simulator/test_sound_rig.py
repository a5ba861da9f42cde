"""A few sentences all the way as sound: voice, room, noise, detector, ear, grammar."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.commands.options import utterances
from assistant.grammar.wake_phrase import CALL, Wake
from assistant.messages import Answer, Expected, Report
from assistant.recogniser.constrained_whisper import ConstrainedWhisper
from assistant.recogniser.pipeline import RecognitionPipeline
from assistant.simulator import voices
from assistant.simulator.noise import Surroundings
from assistant.simulator.sound_rig import SoundRig
from assistant.simulator.voices import SynthesiserVoice

SENTENCES = (
    ("pressure seventy five", Expected("pressure"), Report("pressure", 75.0, "psi")),
    ("one two zero", Expected("pressure"), Report("pressure", 120.0, "psi")),
    ("water two thirds", Expected("water"), Report("water", 2 / 3, "glass")),
    ("correct", Expected("answer"), Answer("yes")),
)


@pytest.mark.real  # the synthesiser and the recogniser are timed
@pytest.mark.ear
@pytest.mark.sound
def test_what_is_said_is_what_is_heard(voice: SynthesiserVoice) -> None:
    rig = SoundRig(
        voice,
        RecognitionPipeline(ConstrainedWhisper()),
        utterances,
        np.random.default_rng(4),
        where=Surroundings(20),
    )
    for words, expected, meaning in SENTENCES:
        seconds, heard = rig.hear(words, expected, 0.0)
        assert 0.5 < seconds < 6
        assert [h.alternatives[0].meaning for h in heard] == [meaning], words


@pytest.mark.ear
@pytest.mark.sound
def test_the_wake_phrase_is_heard_and_left_out_of_the_words(voice: SynthesiserVoice) -> None:
    hearer = RecognitionPipeline(ConstrainedWhisper(), wake=Wake())
    rig = SoundRig(voice, hearer, utterances, np.random.default_rng(4), where=Surroundings(20))
    for words, called in (
        ("engine minder, pressure seventy five", True),
        ("pressure seventy five", False),
    ):
        _, (heard,) = rig.hear(words, Expected(), 0.0)
        assert heard.called is called
        assert heard.alternatives[0].meaning == Report("pressure", 75.0, "psi")
        assert heard.text == "pressure seventy five"
    _, (call,) = rig.hear("engine minder", Expected("water"), 0.0)
    assert (call.alternatives[0].meaning, call.called) == (CALL, True)


@pytest.mark.sound
def test_the_same_words_in_the_same_voice_are_the_same_sound(voice: SynthesiserVoice) -> None:
    first = voices.speak(voice, "water half")
    voices.speak.cache_clear()
    assert np.array_equal(first, voices.speak(voice, "water half"))
    assert 0.4 < len(first) / 16_000 < 3.0
