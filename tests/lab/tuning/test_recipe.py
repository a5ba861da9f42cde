"""The whole recipe at its smallest: everybody held out in turn, an adapter and its card."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from small_corpus import hum

from assistant.enrolment.clip_corpus import LabelledClip
from assistant.enrolment.spec_augment import SpecAugment
from assistant.enrolment.training import TrainingSettings
from assistant.errors import InputWrongError
from assistant.lab.tuning import recipe
from assistant.lab.tuning.gathered_clips import write_clips
from assistant.lab.tuning.training_corpus import TrainingCorpus
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.adapter import read_adapter
from assistant.recogniser.base import Sound


def engine(kind: str, seconds: float, rng: np.random.Generator) -> Sound:
    return rng.standard_normal(int(seconds * SPEECH_RATE_HZ)).astype(np.float32)


MACHINE = recipe.TrainingDevice("cpu", 0, engine)
_ONE = TrainingSettings(steps=2, batch=2, rank=2, warm_up=1, evaluate_every=1)
SETTINGS = (_ONE, replace(_ONE, rank=3, masking=SpecAugment(0.1, 6, 8)))
CLIPS = (
    LabelledClip(hum(300), ("water", "half"), "flite:slt", "statistical", "Water half."),
    LabelledClip(hum(400), ("say", "again"), "espeak-ng:en-us", "formant", ""),
)


@pytest.mark.ear
def test_from_clips_to_a_file_and_its_card(tmp_path: Path) -> None:
    pytest.importorskip("torch", reason="no torch here: the recipe itself is not tested")
    write_clips(tmp_path / "gathered", CLIPS, {})
    file, lines = tmp_path / "made" / "some.npz", list[str]()
    wanted = recipe.RecipeOptions(file, (), False, 1, ("footplate train", "2026-11-25"))
    sounds = recipe.SoundFolders(None, tmp_path / "gathered", engine)
    recipe.make(TrainingCorpus(CLIPS), sounds, SETTINGS, MACHINE, wanted, lines.append)
    assert "encoder/layer_0/ffn/linear_0/A" in read_adapter(file)
    card = file.with_suffix(".md").read_text(encoding="utf-8")
    assert "2 side by side" in card and "rank 3 " in card
    assert "formant" in card and "footplate train" in card
    assert sum(line.startswith(("formant  ", "statistical")) for line in lines) >= 2


@pytest.mark.ear
def test_the_last_run_stops_after_a_stage_and_goes_on(tmp_path: Path) -> None:
    pytest.importorskip("torch", reason="no torch here: the recipe itself is not tested")
    file, lines = tmp_path / "some.npz", list[str]()
    wanted = recipe.RecipeOptions(file, (), True, 1, ("footplate train", "2026-11-25"), 1)
    sounds = recipe.SoundFolders(None, None, engine)
    recipe.make(TrainingCorpus(CLIPS), sounds, SETTINGS, MACHINE, wanted, lines.append)
    assert not file.exists() and "1 courses more" in lines[-1]
    recipe.make(TrainingCorpus(CLIPS), sounds, SETTINGS, MACHINE, wanted, lines.append)
    assert "encoder/layer_0/ffn/linear_0/A" in read_adapter(file)


def test_holding_out_somebody_who_is_not_there_is_refused(tmp_path: Path) -> None:
    wanted = recipe.RecipeOptions(tmp_path / "x.npz", ("bert",), False, 1, ("", ""))
    sounds = recipe.SoundFolders(None, None, engine)
    with pytest.raises(InputWrongError, match=r"bert: not among formant, statistical"):
        recipe.make(TrainingCorpus(CLIPS), sounds, SETTINGS, MACHINE, wanted, print)


def test_a_group_of_voices_is_evaluated_on_sentences_and_a_person_on_digits() -> None:
    assert {one.name for one in recipe.sets_for("formant", 5)} == {
        "sentences formant",
        "talk formant",
    }
    assert {one.name for one in recipe.sets_for("anna", 5)} == {"digits anna"}


def test_the_seed_and_steps_asked_for_are_those_of_every_run() -> None:
    for device in ("cuda", "cpu"):
        settings = recipe.runs_for(device, seed=7, steps=None)
        assert {one.seed for one in settings} == {7}
        assert all(one.steps == 30 for one in recipe.runs_for(device, 7, 30))
    assert len(recipe.runs_for("cuda", 0, None)) == 4
