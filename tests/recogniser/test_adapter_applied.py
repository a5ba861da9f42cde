"""The owner's adapter is applied on top of the shipped one; `--ear plain` leaves both out."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from assistant.recogniser import vosk_model
from assistant.recogniser.adapter import BUNDLED, write_adapter
from assistant.recogniser.choose import choose_recogniser
from assistant.recogniser.constrained_whisper import load_model

pytestmark = pytest.mark.ear
SPECTROGRAM = np.random.default_rng(0).normal(0, 0.5, (80, 200)).astype(np.float32)


def shifting(file: Path, by: float) -> Path:
    """An adapter that only shifts the encoder's output."""
    write_adapter(file, {"encoder/layer_norm/beta": np.full(384, by, np.float32)})
    return file


def test_adapters_add_up(tmp_path: Path) -> None:
    own = shifting(tmp_path / "own.npz", 1.0)
    shipped, both, none = (
        load_model(adapters=adapters).encoder.encode(SPECTROGRAM)
        for adapters in (BUNDLED, (BUNDLED, own), None)
    )
    assert both == pytest.approx(shipped + 1, abs=1e-3)
    assert np.abs(shipped - none).max() > 0.1, "the shipped file is there and does something"


def test_the_line_says_for_whom_it_is_tuned(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(vosk_model, "model_folders", lambda: (tmp_path / "none",))
    own = shifting(tmp_path / "own.npz", 0.0)
    assert "tuned for noise and for your voice" in choose_recogniser(own=own).line
    assert "as it came" in choose_recogniser(own=own, plain=True).line
    assert "tuned for noise (" in choose_recogniser(own=tmp_path / "not_there.npz").line
