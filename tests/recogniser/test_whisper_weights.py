"""The bundled model's files: what is broken is one clear line, and its tokens come back as text."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.errors import WorldFailedError
from assistant.recogniser.whisper_weights import Vocabulary, bundled_model, read_weights


def test_a_missing_or_strange_model_is_one_clear_line(tmp_path: Path) -> None:
    (tmp_path / "model.bin").write_bytes(b"\x06\x00\x00\x00no")
    for name in ("model.bin", "none.bin"):
        with pytest.raises(WorldFailedError, match="not a speech model"):
            read_weights(tmp_path / name, "decoder/")


@pytest.mark.ear
def test_weights_are_chosen_by_the_beginning_of_their_name() -> None:
    weights = read_weights(bundled_model() / "model.bin", "decoder/layer_norm")
    assert set(weights) == {"decoder/layer_norm/beta", "decoder/layer_norm/gamma"}
    assert {array.dtype.name for array in weights.values()} == {"float32"}


@pytest.mark.ear
def test_tokens_come_back_as_their_text() -> None:
    vocabulary = Vocabulary(bundled_model() / "tokenizer.json")
    tokens = vocabulary.of(" Pressure 75.")
    assert vocabulary.text(tokens) == " Pressure 75."
    assert vocabulary.text([*tokens, vocabulary.marks.end]) == " Pressure 75."
