"""Which recogniser is in use, and that the line says so."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from assistant.errors import WorldFailedError
from assistant.messages import Alternative, Answer
from assistant.recogniser import vosk_model
from assistant.recogniser.base import Grammar, NBest, Sound
from assistant.recogniser.choose import CombinedRecogniser, choose_recogniser

YES = Answer("yes")


class Fixed:
    """Always hears yes."""

    def __init__(self, name: str, probability: float) -> None:
        self.name = name
        self._alternatives = (Alternative(YES, "correct", probability),)
        self.prepared = 0

    def prepare(self, grammar: Grammar) -> None:
        self.prepared += 1

    def hear(self, sound: Sound, grammar: Grammar) -> NBest:
        return NBest(self.name, self._alternatives)


def test_both_are_prepared_and_heard(small: Grammar) -> None:
    two = [Fixed("a", 0.9), Fixed("b", 0.8)]
    both = CombinedRecogniser(two)
    both.prepare(small)
    n_best = both.hear(np.zeros(10, np.float32), small)
    assert [each.prepared for each in two] == [1, 1]
    assert both.name == n_best.recogniser == "a+b"
    assert n_best.alternatives[0].probability > 0.9


@pytest.mark.ear
def test_without_a_vosk_model_the_bundled_one_hears_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(vosk_model, "model_folders", lambda: (tmp_path,))
    chosen = choose_recogniser()
    assert chosen.recogniser.name == "whisper"
    assert chosen.line == "Ear: the bundled one, tuned for noise (no vosk model found)."


@pytest.mark.ear
def test_a_broken_model_is_left_out_unless_it_was_asked_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    broken = tmp_path / "vosk-model-small-en-us-0.15"
    broken.mkdir()
    monkeypatch.setattr(vosk_model, "model_folders", lambda: (tmp_path,))
    chosen = choose_recogniser()
    assert chosen.recogniser.name == "whisper"
    assert "not a whole vosk model" in chosen.line
    with pytest.raises(WorldFailedError, match="not a whole vosk model"):
        choose_recogniser(broken)
