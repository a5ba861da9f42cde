"""Whisper in torch is Whisper in numpy. Needs torch: get the extra `tune` to run all of these."""

from __future__ import annotations

import sys

import numpy as np
import pytest
from training_words import chirp

from assistant.enrolment.teacher import Teacher
from assistant.enrolment.torch_whisper import torch
from assistant.errors import WorldFailedError
from assistant.recogniser.mel import log_mel
from assistant.recogniser.whisper_decoder import Decoder, PrefixCache
from assistant.recogniser.whisper_encoder import Encoder
from assistant.recogniser.whisper_weights import Float32Array


@pytest.mark.ear
def test_it_computes_what_the_numpy_model_computes(
    teacher: Teacher, weights: dict[str, Float32Array]
) -> None:
    sound = chirp(1)
    padded, lengths = teacher.model.padded([sound])
    spectrogram = log_mel(sound, 1000)
    assert np.abs(teacher.model.log_mel(padded)[0].numpy() - spectrogram).max() < 1e-3
    by_numpy = Encoder(weights).encode(spectrogram)
    encoded = teacher.model.encode(torch().from_numpy(spectrogram)[None])
    assert np.abs(encoded[0].numpy() - by_numpy).max() < 2e-3 * np.abs(by_numpy).max()

    prompt = teacher.begin("Water half.")
    text = [*teacher.tokens.of(" What next"), teacher.tokens.marks.end]
    attended = teacher.model.attended(lengths)
    losses, _ = teacher.model.losses([prompt], [text], encoded, attended)
    decoder = Decoder({name: w for name, w in weights.items() if name.startswith("decoder")})
    decoder.include(text)
    cache = PrefixCache(decoder, by_numpy[: int(attended.sum())], prompt)
    after, parent, nats = cache.first, 0, []
    for token in text:
        nats.append(-after.log_prob(0, token))
        nodes, after = cache.extend([parent], [token])
        parent = nodes[0]
    assert losses.numpy() == pytest.approx(nats, abs=0.02)


@pytest.mark.ear
def test_an_adapter_begins_without_effect(teacher: Teacher) -> None:
    spectrogram = torch().from_numpy(log_mel(chirp(3), 1000))[None]
    adapter = teacher.model.adapter(rank=4, seed=0)
    with torch().no_grad():
        plain, adapted = (
            teacher.model.encode(spectrogram),
            teacher.model.encode(spectrogram, adapter),
        )
    assert np.abs((plain - adapted).numpy()).max() < 1e-5


def test_without_torch_it_says_how_to_get_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "torch", None)  # an import of it now fails
    with pytest.raises(WorldFailedError, match=r"\.\[tune\]"):
        torch()
