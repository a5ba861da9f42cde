"""Layers compiled once and kept: the same sentences as one grammar that holds them all."""

from __future__ import annotations

from typing import Any

from assistant.recogniser.automaton import of_sentences
from assistant.recogniser.prefix_layers import LARGE, MOST_CACHED, LayerCache
from assistant.recogniser.token_trie import TokenGrammar

COMMON = {("pressure", "seventy", "five"): 1, ("say", "again"): 2, ("water", "half"): 3}
OWN = {("pressure", "gauge", "shut"): 4, ("half",): 5}


def tokens(text: str) -> tuple[int, ...]:
    """One token a character."""
    return tuple(map(ord, text))


def spellings(
    grammar: Any, states: Any, sofar: str = "", depth: int = 40
) -> set[tuple[str, tuple[str, ...]]]:
    """Every text with the sentence it stands for."""
    texts = {(sofar, words) for words in grammar.complete(states)}
    if depth:
        for token in map(int, grammar.allowed(states)):
            onward = grammar.after(states, token)
            texts |= spellings(grammar, onward, sofar + chr(token), depth - 1)
    return texts


def test_layers_together_spell_what_one_grammar_does() -> None:
    cache = LayerCache(tokens, lambda new: None)
    layered = cache.layers((COMMON, OWN))
    whole = TokenGrammar(of_sentences([*COMMON, *OWN]), tokens)
    parts, all_of_it = spellings(layered, layered.begin()), spellings(whole, whole.begin())
    assert {words for _, words in parts} == {*COMMON, *OWN}
    assert parts == all_of_it


def test_a_layer_is_compiled_once_and_the_oldest_go() -> None:
    included: list[int] = []
    cache = LayerCache(tokens, lambda new: included.append(len(set(new))))
    for count in range(MOST_CACHED + 5):
        cache.layers((COMMON, {("thing", str(count)): count}))
    assert len(included) == MOST_CACHED + 6, "the common layer once, each other once"
    cache.layers((COMMON,))
    assert len(included) == MOST_CACHED + 6, (
        "the common layer was used all the time and is still there"
    )


def test_large_layers_that_many_questions_share_outlive_the_small_ones() -> None:
    included: list[int] = []
    cache = LayerCache(tokens, lambda new: included.append(len(set(new))))
    large = {("number", str(count)): count for count in range(LARGE)}
    cache.layers((large,))
    for count in range(MOST_CACHED + 5):
        cache.layers(({("thing", str(count)): count},))
    made = len(included)
    cache.layers((large,))
    assert len(included) == made


def test_a_layer_may_be_a_ready_automaton() -> None:
    cache = LayerCache(tokens, lambda new: None)
    listed, ready = cache.layers((COMMON,)), cache.layers((of_sentences(COMMON),))
    assert spellings(listed, listed.begin()) == spellings(ready, ready.begin())
