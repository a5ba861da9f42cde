"""What these tests share: the bundled model in torch, where torch is installed."""

from __future__ import annotations

import pytest
from training_words import WORDS

from assistant.enrolment.teacher import Teacher
from assistant.recogniser.whisper_weights import Float32Array, bundled_model, read_weights


@pytest.fixture(scope="session")
def teacher() -> Teacher:
    pytest.importorskip("torch", reason="no torch here: training itself is not tested")
    return Teacher("cpu", {word for words in WORDS for word in words}, ("Water half.",))


@pytest.fixture(scope="session")
def weights() -> dict[str, Float32Array]:
    return read_weights(bundled_model() / "model.bin", "")
