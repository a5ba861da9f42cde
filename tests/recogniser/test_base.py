"""The grammar of few sentences that recognisers are given for stop words."""

from __future__ import annotations

from assistant.messages import Answer
from assistant.recogniser.base import ListedGrammar

YES = ListedGrammar({("that's", "right"): Answer("yes")}, prompt="That's right.")


def test_a_sentence_means_what_it_is_listed_with_and_nothing_else_means_anything() -> None:
    assert YES.meaning(["that's", "right"]) == Answer("yes")
    assert YES.meaning(["that's"]) is None
    assert YES.meaning([]) is None


def test_it_is_one_layer_without_a_likelier_part() -> None:
    assert YES.layers == (YES.sentences,)
    assert YES.likely == ()
    assert YES.weight(Answer("yes")) == YES.weight(Answer("no")) == 1.0


def test_two_grammars_are_different_though_their_sentences_are_equal() -> None:
    """What a recogniser keeps for a grammar is found by the grammar itself."""
    assert ListedGrammar(YES.sentences) != ListedGrammar(YES.sentences)
    assert len({YES, YES}) == 1
