"""The encoder against the library's own, and how much of a sound the decoder may attend to."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.mel import log_mel
from assistant.recogniser.whisper_encoder import LONGEST_S, Encoder
from assistant.recogniser.whisper_weights import bundled_model, read_weights

pytestmark = pytest.mark.ear


@pytest.fixture(scope="module")
def encoder() -> Encoder:
    return Encoder(read_weights(bundled_model() / "model.bin", "encoder/"))


def test_it_encodes_as_the_library_does(encoder: Encoder) -> None:
    import ctranslate2

    model = ctranslate2.models.Whisper(str(bundled_model()), device="cpu", compute_type="float32")
    rng = np.random.default_rng(2)
    sound = (0.1 * rng.standard_normal(2 * SPEECH_RATE_HZ)).astype(np.float32)
    spectrogram = log_mel(sound, 400)
    view = model.encode(ctranslate2.StorageView.from_array(spectrogram[None]))
    theirs = np.asarray(view)[0]
    assert np.abs(encoder.encode(spectrogram) - theirs).max() < 2e-3 * np.abs(theirs).max()


@pytest.mark.parametrize(("seconds", "positions"), [(0.5, 75), (2.0, 150), (29.5, 1500)])
def test_it_gives_no_more_than_the_sound_and_a_little_after(
    encoder: Encoder, seconds: float, positions: int
) -> None:
    sound = np.zeros(round(seconds * SPEECH_RATE_HZ), np.float32)
    encoded = encoder.of_sound(sound, window_s=6.0, after_s=1.0)
    assert encoded.shape == (positions, 384)
    assert len(encoded) <= LONGEST_S * 50
