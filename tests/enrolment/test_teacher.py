"""The model that is trained: it begins where it is asked to, and chooses what fits the sound."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from training_words import chirp

from assistant.enrolment.teacher import Teacher
from assistant.recogniser.adapter import write_adapter
from assistant.recogniser.whisper_weights import Float32Array

pytestmark = pytest.mark.ear


def test_begun_from_an_adapter_it_stands_where_that_ends(
    teacher: Teacher, weights: dict[str, Float32Array], tmp_path: Path
) -> None:
    name = "encoder/layer_norm/beta"
    write_adapter(tmp_path / "shift.npz", {name: np.ones(384, np.float32)})
    shifted = Teacher("cpu", adapter=tmp_path / "shift.npz")
    assert shifted.model.weights[name].numpy() == pytest.approx(weights[name] + 1, abs=1e-3)


def test_of_each_sounds_texts_one_is_chosen(teacher: Teacher) -> None:
    choices = [(" Water half.", " water half"), (" say again",)]
    first, second = teacher.best([chirp(1), chirp(2)], ["Water half.", ""], choices)
    assert first in choices[0]
    assert second == " say again"
