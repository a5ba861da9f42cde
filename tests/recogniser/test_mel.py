"""The log-mel spectrogram against faster-whisper's own, a different implementation."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.mel import BANDS, log_mel


@pytest.mark.parametrize("seconds", [0.4, 3.0, 9.99])
def test_it_is_what_the_model_was_trained_on(seconds: float) -> None:
    extractor = pytest.importorskip("faster_whisper.feature_extractor").FeatureExtractor()
    t = np.arange(int(seconds * SPEECH_RATE_HZ)) / SPEECH_RATE_HZ
    rng = np.random.default_rng(1)
    sound = (
        0.3 * np.sin(2 * np.pi * 300 * t * (1 + t)) + 0.01 * rng.standard_normal(len(t))
    ).astype(np.float32)
    theirs = extractor(np.pad(sound, (0, 10 * SPEECH_RATE_HZ - len(sound))), padding=0)[:, :1000]
    ours = log_mel(sound, 1000)
    assert ours.shape == (BANDS, 1000)
    assert np.abs(ours - theirs).max() < 1e-4
