"""The whole recipe at its smallest: everybody kept out in turn, a file and its card at the end."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from assistant.enrolment.clip_corpus import Corpus, LabelledClip, write_clips
from assistant.enrolment.spec_augment import SpecAugment
from assistant.enrolment.training import TrainingSettings
from assistant.errors import InputWrongError
from assistant.lab.tuning import recipe
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.adapter import read_adapter
from assistant.recogniser.base import Sound

pytest.importorskip("torch", reason="no torch here: the recipe itself is not tested")
pytestmark = pytest.mark.ear


def hum(hz: float) -> Sound:
    return (0.2 * np.sin(2 * np.pi * hz * np.arange(SPEECH_RATE_HZ // 2) / SPEECH_RATE_HZ)).astype(
        np.float32
    )


def engine(kind: str, seconds: float, rng: np.random.Generator) -> Sound:
    return rng.standard_normal(int(seconds * SPEECH_RATE_HZ)).astype(np.float32)


PLACE = recipe.TrainingDevice("cpu", 0, engine)
_ONE = TrainingSettings(steps=2, batch=2, rank=2, warm_up=1, look=1)
COURSES = (_ONE, replace(_ONE, rank=3, veil=SpecAugment(0.1, 6, 8)))
CLIPS = (
    LabelledClip(hum(300), ("water", "half"), "flite:slt", "statistical", "Water half."),
    LabelledClip(hum(400), ("say", "again"), "espeak-ng:en-us", "formant", ""),
)


def test_from_clips_to_a_file_and_its_card(tmp_path: Path) -> None:
    write_clips(tmp_path / "gathered", CLIPS, {})
    file, told = tmp_path / "made" / "some.npz", list[str]()
    wanted = recipe.RecipeOptions(file, (), False, 1, ("footplate train", "2026-11-25"))
    sounds = recipe.SoundFolders(None, tmp_path / "gathered", engine)
    recipe.make(Corpus(CLIPS, {}, ("",)), sounds, COURSES, PLACE, wanted, told.append)
    assert "encoder/layer_0/ffn/linear_0/A" in read_adapter(file)
    card = file.with_suffix(".md").read_text(encoding="utf-8")
    assert "2 side by side" in card and "rank 3 " in card
    assert "formant" in card and "nobody" in card and "footplate train" in card
    assert sum(line.startswith(("formant  ", "statistical")) for line in told) >= 2


def test_keeping_out_somebody_who_is_not_there_is_said(tmp_path: Path) -> None:
    wanted = recipe.RecipeOptions(tmp_path / "x.npz", ("bert",), False, 1, ("", ""))
    sounds = recipe.SoundFolders(None, None, engine)
    with pytest.raises(InputWrongError, match=r"bert: not among formant, statistical"):
        recipe.make(Corpus(CLIPS, {}, ("",)), sounds, COURSES, PLACE, wanted, print)
