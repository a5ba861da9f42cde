"""The synthesisers of this machine: each says what it is given, and a voice that cannot is told."""

from __future__ import annotations

import shutil

import numpy as np
import pytest

from assistant.errors import WorldFailedError
from assistant.messages import SPEECH_RATE_HZ
from assistant.simulator.voices import SynthesiserVoice, speak

VOICES = (
    ("flite", SynthesiserVoice("flite", "rms")),
    ("espeak-ng", SynthesiserVoice("espeak-ng", "en-us+m3")),
    ("text2wave", SynthesiserVoice("festival", "kal_diphone")),
)


@pytest.mark.parametrize(("program", "voice"), VOICES)
def test_more_words_take_longer_and_a_quicker_pace_less(
    program: str, voice: SynthesiserVoice
) -> None:
    if shutil.which(program) is None:
        pytest.skip(f"{program} is not on this machine")
    try:
        one, more = speak(voice, "ready"), speak(voice, "pressure sixty five pounds")
    except WorldFailedError as error:
        assert "failed" in str(error), error
        pytest.skip(f"{voice} is not on this machine")
    assert 0.2 * SPEECH_RATE_HZ < len(one) < len(more) < 4 * SPEECH_RATE_HZ
    assert np.abs(more).max() > 0.05
    assert len(speak(voice, "pressure sixty five pounds", 1.3)) < len(more)


def test_a_voice_that_is_not_there_is_told() -> None:
    with pytest.raises(WorldFailedError, match=r"failed|says nothing"):
        speak(SynthesiserVoice("festival", "nobody_at_all"), "ready")
