"""The wake phrase in the grammar: any sentence after it, itself alone, and taken out of words."""

from __future__ import annotations

import pytest

from assistant.grammar.phrases import EXPECTED_KINDS, grammar
from assistant.grammar.wake_phrase import CALL, PHRASE, Wake
from assistant.lab.benches.talk_trials import OTHER_TALK
from assistant.lab.benches.talk_wake import NEAR_PHRASES
from assistant.messages import Alternative, Answer, Expected, Heard, Order, Report

PSI75 = Report("pressure", 75.0, "psi")


@pytest.mark.parametrize("kind", EXPECTED_KINDS)
def test_any_sentence_may_begin_with_it_and_none_must(kind) -> None:
    plain, wake = grammar(Expected(kind)), Wake()
    made = wake.grammar(plain)
    for words, meaning in [*plain.sentences.items()][::50]:
        assert made.meaning(words) == meaning
        assert made.meaning((*PHRASE.split(), *words)) == meaning
    assert made.meaning(tuple(PHRASE.split())) == CALL
    assert len(made.sentences) == 2 * len(plain.sentences)
    assert made.prompt == f"Engine minder. {plain.prompt}"
    assert made.weight(PSI75) == plain.weight(PSI75)


def test_a_steps_own_answers_may_begin_with_it_and_are_likely() -> None:
    swept = Report("tubes", "swept")
    made = Wake().grammar(grammar(Expected("state", (("tubes swept", swept),))))
    words = (*PHRASE.split(), "tubes", "swept")
    assert made.meaning(words) == swept
    assert any(words in layer for layer in made.likely)


def test_the_same_grammar_and_the_parts_it_shares_are_made_once() -> None:
    wake = Wake()
    any_, pressure = (wake.grammar(grammar(Expected(kind))) for kind in ("any", "pressure"))
    assert wake.grammar(grammar(Expected("any"))) is any_
    assert any_.layers[0] is pressure.layers[0]


def test_another_phrase_can_be_measured() -> None:
    made = Wake("hello boiler").grammar(grammar(Expected()))
    assert made.meaning(("hello", "boiler")) == CALL
    assert made.meaning(("hello", "boiler", "what", "next")) == Order("next")
    assert not Wake("hello boiler").begins("engine minder what next")


@pytest.mark.parametrize(
    ("words", "after", "called"),
    [
        ("engine minder pressure seven five", "pressure seven five", True),
        ("engine minder", "engine minder", True),
        ("pressure seven five", "pressure seven five", False),
        ("engine minders pressure", "engine minders pressure", False),
    ],
)
def test_it_is_left_out_of_what_was_heard(words: str, after: str, called: bool) -> None:
    other = Alternative(Answer("no"), "engine minder wrong", 0.01)
    heard = Heard(0.0, "ear", (Alternative(PSI75, words, 0.9), other), -0.5, -0.3, 2.0, words)
    told = Wake().heard(heard)
    assert told.called is called
    assert told.alternatives[0] == Alternative(PSI75, after, 0.9)
    assert told.alternatives[1].words == "wrong"
    assert told.text == after
    assert (told.log_ratio, told.average) == (-0.5, -0.3)


def test_nothing_heard_is_no_call() -> None:
    assert Wake().heard(Heard(0.0, "ear", ())).called is False


def test_nobody_says_it_by_chance() -> None:
    for words in (*OTHER_TALK, *NEAR_PHRASES):
        assert not Wake().begins(words)
        assert PHRASE not in words
