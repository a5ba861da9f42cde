"""What is spoken: sentences of the grammar of many forms, and sentences that are not of it."""

from __future__ import annotations

import numpy as np

from assistant.grammar.phrases import EXPECTED_KINDS, grammar
from assistant.lab.benches.talk_trials import OTHER_TALK
from assistant.lab.tuning.sentences import form_of, grammar_sentences, other_sentences
from assistant.messages import Expected


def test_sentences_of_the_grammar_are_of_many_forms() -> None:
    spoken = list(grammar_sentences(600, np.random.default_rng(0)))
    assert all(grammar(Expected(kind)).meaning(words) is not None for kind, words in spoken)
    assert {kind for kind, _ in spoken} == set(EXPECTED_KINDS)
    assert len({form_of(words) for _, words in spoken}) > 150
    numbers = sum("#" in form_of(words) for _, words in spoken)
    assert 0.2 < numbers / len(spoken) < 0.8


def test_other_sentences_are_not_of_the_grammar() -> None:
    spoken = list(other_sentences(300, np.random.default_rng(0)))
    assert len(spoken) > 250
    assert all(
        grammar(Expected(one)).meaning(words) is None
        for one in EXPECTED_KINDS
        for _, words in spoken
    )
    many = {" ".join(words) for _, words in other_sentences(3000, np.random.default_rng(1))}
    assert not many & set(OTHER_TALK), "the bench's own sentences must not be trained on"
