"""Clips on disk: what was gathered comes back, and what is missing is said."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import soundfile
from small_corpus import SMALL_CORPUS, hum

from assistant.enrolment.clip_corpus import LabelledClip
from assistant.errors import InputWrongError
from assistant.lab.tuning.gathered_clips import order_clips, read_clips, write_clips
from assistant.lab.tuning.training_corpus import DIGIT
from assistant.messages import SPEECH_RATE_HZ


def test_a_gathered_folder_comes_back(tmp_path: Path) -> None:
    spoken = [
        SMALL_CORPUS.clips[0],
        replace(SMALL_CORPUS.clips[1], in_grammar=False),
        LabelledClip(hum(250), ("five",), "flite:slt", "statistical", DIGIT),
    ]
    write_clips(tmp_path, spoken, {"one.wav": ["a", "latte"]})
    clips, orders = read_clips(tmp_path)
    assert [(c.words, c.speaker, c.group, c.prompt) for c in clips] == [
        (c.words, c.speaker, c.group, c.prompt) for c in spoken
    ]
    assert orders == {"one.wav": ("a", "latte")}
    assert float(np.corrcoef(clips[0].sound, spoken[0].sound)[0, 1]) > 0.9  # Vorbis loses a little
    assert [c.in_grammar for c in clips] == [True, False, True]


def test_the_file_format_is_kept(tmp_path: Path) -> None:
    write_clips(tmp_path, SMALL_CORPUS.clips[:1], {"one.wav": ["a", "latte"]})
    table = json.loads((tmp_path / "clips.json").read_text(encoding="utf-8"))
    assert table["orders"] == {"one.wav": "a latte"}
    assert table["clips"] == [
        {"words": "water half", "speaker": "flite:slt", "group": "statistical",
         "prompt": "Water half.", "ours": True, "samples": SPEECH_RATE_HZ // 2}
    ]  # fmt: skip


def test_peoples_orders_are_read_where_they_lie(tmp_path: Path) -> None:
    (tmp_path / "commands").mkdir()
    for name, seconds in (("short", 1.0), ("long", 9.0)):
        file = tmp_path / "commands" / f"{name}.wav"
        soundfile.write(file, hum(300, seconds), SPEECH_RATE_HZ)
    clips = order_clips(tmp_path, {"short.wav": ("a", "latte"), "long.wav": ("tea",)}, "Order.")
    assert [(c.words, c.speaker, c.group, c.prompt) for c in clips] == [
        (("a", "latte"), "short.wav", "orders", "Order.")
    ], "what is too long for the training is left out"


def test_what_is_missing_is_said(tmp_path: Path) -> None:
    with pytest.raises(InputWrongError, match="not a gathered folder"):
        read_clips(tmp_path)
