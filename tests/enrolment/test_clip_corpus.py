"""Clips to learn from: the quiet at both ends goes, the words and prompts are known."""

from __future__ import annotations

import numpy as np
import pytest
from small_corpus import SMALL_CORPUS, hum

from assistant.enrolment.clip_corpus import trimmed
from assistant.messages import SPEECH_RATE_HZ


def test_trimming_leaves_the_speech_and_a_little_around() -> None:
    quiet = np.zeros(SPEECH_RATE_HZ, np.float32)
    cut = trimmed(np.concatenate([quiet, hum(300), quiet]), around_s=0.1)
    assert len(cut) / SPEECH_RATE_HZ == pytest.approx(0.7, abs=0.03)


def test_silence_is_left_as_it_is() -> None:
    silence = np.zeros(SPEECH_RATE_HZ, np.float32)
    assert len(trimmed(silence)) == len(silence)
    assert len(trimmed(silence[:10])) == 10


def test_every_word_and_prompt_is_known() -> None:
    assert SMALL_CORPUS.words() == {"water", "half", "say", "again", "a", "latte"}
    assert SMALL_CORPUS.every_prompt() == {"Water half.", "", "Can I get a latte.", "Pressure."}
