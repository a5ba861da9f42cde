"""The corpus of the training: who is held out stays out, whatever he is named by."""

from __future__ import annotations

import pytest
from small_corpus import SMALL_CORPUS

from assistant.lab.tuning.training_corpus import is_person


@pytest.mark.parametrize("who", ["anna", "formant", "espeak-ng:en-us", "orders"])
def test_who_is_held_out_is_nowhere_in_the_rest(who: str) -> None:
    rest, alone = SMALL_CORPUS.without(who), SMALL_CORPUS.only(who)
    assert all(who not in (clip.speaker, clip.group) for clip in rest.clips)
    assert not any(who in (name, *name.split("/")) for name in rest.digits)
    assert len(rest.clips) + len(alone.clips) == len(SMALL_CORPUS.clips)
    assert set(rest.digits) | set(alone.digits) == set(SMALL_CORPUS.digits)
    assert alone.clips or alone.digits


def test_a_part_of_the_clips_is_drawn_and_the_digits_stay() -> None:
    part = SMALL_CORPUS.some(2, seed=1)
    assert len(part.clips) == 2 and set(part.clips) < set(SMALL_CORPUS.clips)
    assert part.clips == SMALL_CORPUS.some(2, seed=1).clips
    assert part.digits == SMALL_CORPUS.digits


def test_people_are_told_from_voices() -> None:
    assert SMALL_CORPUS.people == ("anna", "bert")
    assert is_person("anna") and is_person("reader/reader 1")
    assert not is_person("formant/espeak-ng:en-us")
