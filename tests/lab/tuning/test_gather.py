"""Gathering: a folder is made with every kind of clip, and read as a corpus."""

from __future__ import annotations

from pathlib import Path

import pytest
from small_corpus import SMALL_CORPUS, hum

from assistant.enrolment.clip_corpus import LabelledClip
from assistant.errors import InputWrongError
from assistant.lab.tuning.gather import corpus, gather
from assistant.lab.tuning.gathered_clips import read_clips, write_clips
from assistant.lab.tuning.synthetic_voices import GROUPS, UNHEARD
from assistant.lab.tuning.training_corpus import DIGIT
from assistant.recogniser.base import Sound


def speak(program: str, voice: str, text: str, speed: float) -> Sound:
    return hum(200.0 + len(voice), 0.3 / speed)


def test_every_group_is_gathered_and_the_unheard_voices_stay_out_of_the_corpus(
    tmp_path: Path,
) -> None:
    lines: list[str] = []
    gather(tmp_path, None, speak, 0, lines.append, (12, 6))
    clips, orders = read_clips(tmp_path)
    assert orders == {}
    assert {clip.group for clip in clips} == {*GROUPS, UNHEARD}
    assert lines[-1].startswith(f"{len(clips)} sentences and 0 orders")
    made = corpus(tmp_path, None)
    assert {clip.group for clip in made.clips} == set(GROUPS)
    assert {clip.in_grammar for clip in made.clips} == {True, False}


def test_digits_are_kept_apart_by_voice(tmp_path: Path) -> None:
    digit = LabelledClip(hum(250), ("five",), "flite:slt", "statistical", DIGIT)
    write_clips(tmp_path, [*SMALL_CORPUS.clips[:2], digit], {})
    made = corpus(tmp_path, None)
    assert [clip.words for clip in made.clips] == [("water", "half"), ("say", "again")]
    assert list(made.digits["statistical/flite:slt"]) == [5]


def test_nothing_to_learn_from_is_said() -> None:
    with pytest.raises(InputWrongError, match="nothing to learn from"):
        corpus(None, None)
