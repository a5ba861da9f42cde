"""Layers laid out once and kept: the same sentences as one grammar that holds them all."""

from __future__ import annotations

from assistant.recogniser.automaton import of_sentences
from assistant.recogniser.prefix_layers import MOST_CACHED, LayerCache
from assistant.recogniser.token_trie import TokenGrammar

COMMON = {("pressure", "seventy", "five"): 1, ("say", "again"): 2, ("water", "half"): 3}
OWN = {("pressure", "gauge", "shut"): 4, ("half",): 5}


def tokens(text: str) -> tuple[int, ...]:
    """One token a character: enough to walk by."""
    return tuple(map(ord, text))


def writings(grammar, places, sofar: str = "", depth: int = 40) -> set[tuple[str, tuple]]:
    """Every text with what it stands for."""
    found = {(sofar, words) for words in grammar.complete(places)}
    if depth:
        for token in map(int, grammar.allowed(places)):
            onward = grammar.after(places, token)
            found |= writings(grammar, onward, sofar + chr(token), depth - 1)
    return found


def test_layers_together_write_what_one_grammar_writes() -> None:
    shelf = LayerCache(tokens, lambda seen: None)
    layered = shelf.layers((COMMON, OWN))
    whole = TokenGrammar(of_sentences([*COMMON, *OWN]), tokens)
    ours, all_of_it = writings(layered, layered.begin()), writings(whole, whole.begin())
    assert {words for _, words in ours} == {*COMMON, *OWN}
    assert ours == all_of_it


def test_a_layer_is_laid_out_once_and_the_oldest_go() -> None:
    told: list[int] = []
    shelf = LayerCache(tokens, lambda seen: told.append(len(set(seen))))
    for count in range(MOST_CACHED + 5):
        shelf.layers((COMMON, {("thing", str(count)): count}))
    assert len(told) == MOST_CACHED + 6, "the common layer once, each other once"
    shelf.layers((COMMON,))
    assert len(told) == MOST_CACHED + 6, "the common layer was used all the time and is still there"
