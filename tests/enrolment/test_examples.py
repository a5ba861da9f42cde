"""Batches for the training: from seed and number alone, with the texts that were chosen."""

from __future__ import annotations

import numpy as np
import pytest
from small_corpus import SMALL_CORPUS, first_text

from assistant.enrolment.augmentation import Augmentation
from assistant.enrolment.clip_corpus import Corpus
from assistant.enrolment.examples import Examples, MixtureWeights, with_texts
from assistant.enrolment.spellings import spellings

CORPUS = with_texts(Corpus(SMALL_CORPUS.clips[:2], ("Pressure.",)), first_text)


def test_each_clip_gets_the_text_that_is_preferred() -> None:
    assert [clip.texts for clip in CORPUS.clips] == [
        (spellings(clip.words)[0],) * 2 for clip in SMALL_CORPUS.clips[:2]
    ]


def test_the_same_seed_and_number_give_the_same_batch() -> None:
    first, again, other = (
        Examples(CORPUS, Augmentation(), MixtureWeights(), seed) for seed in (3, 3, 4)
    )
    one, two, three = first.batch(5, 8), again.batch(5, 8), other.batch(5, 8)
    assert [(e.prompt, e.text) for e in one] == [(e.prompt, e.text) for e in two]
    assert all(np.array_equal(a.sound, b.sound) for a, b in zip(one, two, strict=True))
    assert [len(e.sound) for e in one] != [len(e.sound) for e in three]
    assert [len(e.sound) for e in one] != [len(e.sound) for e in first.batch(6, 8)]


@pytest.mark.parametrize(("nothing", "prompted"), [(0.0, 1.0), (1.0, 0.0), (0.5, 0.5)])
def test_the_weights_are_kept(nothing: float, prompted: float) -> None:
    batch = Examples(CORPUS, Augmentation(), MixtureWeights(nothing, prompted), 0).batch(0, 200)
    assert np.mean([e.text == "" for e in batch]) == pytest.approx(nothing, abs=0.1)
    without_prompt = [e for e in batch if e.text != " Say again" and e.prompt]
    assert bool(without_prompt) == (prompted > 0)
    assert all(e.sound.dtype == np.float32 and np.abs(e.sound).max() <= 1 for e in batch)
