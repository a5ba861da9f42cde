"""Free dictation: nothing of nothing, and never more words than can be spoken in the time."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.constrained_whisper import LoadedModel, load_model
from assistant.recogniser.dictation import MOST_TOKENS_A_S, Dictation

pytestmark = pytest.mark.ear


@pytest.fixture(scope="module")
def model() -> LoadedModel:
    return load_model()


def test_nothing_is_written_of_no_sound(model: LoadedModel) -> None:
    assert Dictation(model).write(np.zeros(100, np.float32)) == ""


def test_noise_does_not_run_on(model: LoadedModel) -> None:
    rng = np.random.default_rng(3)
    noise = (0.1 * rng.standard_normal(SPEECH_RATE_HZ)).astype(np.float32)
    text = Dictation(model).write(noise)
    assert len(model.tokens.of(text)) <= MOST_TOKENS_A_S + 6
