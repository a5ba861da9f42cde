"""Batches of the whole training: numbers, orders, sentences and nothing."""

from __future__ import annotations

import numpy as np
import pytest
from small_corpus import SMALL_CORPUS, first_text

from assistant.enrolment.augmentation import Augmentation
from assistant.enrolment.examples import with_texts
from assistant.errors import InputWrongError
from assistant.lab.tuning.number_examples import (
    TrainingExamples,
    TrainingMixture,
    number_text,
    style_of,
    with_number_styles,
)
from assistant.lab.tuning.training_corpus import TrainingCorpus

CORPUS = with_number_styles(with_texts(SMALL_CORPUS, first_text), first_text, 0, 20)


def test_batches_are_the_same_for_the_same_seed_and_number() -> None:
    first, again, other = (
        TrainingExamples(CORPUS, Augmentation(), TrainingMixture(), seed) for seed in (3, 3, 4)
    )
    one, two, three = first.batch(5, 8), again.batch(5, 8), other.batch(5, 8)
    assert [(e.prompt, e.text) for e in one] == [(e.prompt, e.text) for e in two]
    assert all(np.array_equal(a.sound, b.sound) for a, b in zip(one, two, strict=True))
    assert [e.text for e in one] != [e.text for e in three]
    assert [e.text for e in first.batch(6, 8)] != [e.text for e in one]


def test_a_batch_has_numbers_orders_sentences_and_nothing() -> None:
    texts = [
        e.text
        for e in TrainingExamples(CORPUS, Augmentation(), TrainingMixture(nothing=0.2), 0).batch(
            0, 80
        )
    ]
    assert "" in texts
    assert any("latte" in text for text in texts)
    assert any(any(c.isdigit() for c in text) for text in texts)
    assert any("again" in text or "ater" in text for text in texts)


def test_a_number_is_written_in_the_style_that_is_preferred() -> None:
    corpus = TrainingCorpus((), number_styles={("Pressure.", 2): {"figures stop": 5}})
    rng = np.random.default_rng(0)
    assert number_text(corpus, ("seven", "five"), "Pressure.", rng) == " 75."


def test_styles_are_counted_by_prompt_and_length() -> None:
    assert {prompt for prompt, _ in CORPUS.number_styles} <= {"Pressure.", ""}
    assert sum(sum(counts.values()) for counts in CORPUS.number_styles.values()) == 20
    assert style_of(" One, two, zero.") == "words comma capital stop"


def test_an_empty_corpus_is_refused() -> None:
    with pytest.raises(InputWrongError, match="nothing to learn from"):
        TrainingExamples(TrainingCorpus(()), Augmentation(), TrainingMixture(), 0)
