"""What the benches say: all their sentences are accepted, and none of the other talk is one."""

from __future__ import annotations

import pytest

from assistant.grammar.phrases import grammar
from assistant.lab.benches.talk_trials import OTHER_TALK, SENTENCES, sentence_trials
from assistant.simulator.noise import Surroundings
from assistant.simulator.voices import SynthesiserVoice


def test_all_forty_sentences_are_accepted_words() -> None:
    assert len(SENTENCES) == 40
    assert not [words for words, e in SENTENCES if grammar(e).meaning(words.split()) is None]


def test_no_other_talk_is_an_accepted_sentence() -> None:
    questions = {expected for _, expected in SENTENCES}
    accepted = [
        words
        for words in OTHER_TALK
        for expected in questions
        if grammar(expected).meaning(words.split()) is not None
    ]
    assert not accepted


@pytest.mark.sound
def test_a_share_of_the_trials_goes_round_all_sentences(voice: SynthesiserVoice) -> None:
    trials = list(sentence_trials(SENTENCES[:4], Surroundings(), 14, 5))
    assert len(trials) == 4
    assert {trial.expected for trial in trials} == {expected for _, expected in SENTENCES[:4]}
    assert all(trial.meant is not None for trial in trials)
