"""Automata accept exactly their sentences and are as small as they can be."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from listed_automaton import listed

from assistant.recogniser.automaton import of_sentences

SENTENCES = st.lists(st.sampled_from("abc"), min_size=1, max_size=4).map(tuple)


@given(st.sets(SENTENCES, min_size=1, max_size=20))
def test_a_list_becomes_exactly_its_sentences(sentences: set[tuple[str, ...]]) -> None:
    automaton = of_sentences(sentences)
    assert listed(automaton) == sentences
    assert automaton.count() == len(sentences)
    futures = {frozenset(listed(automaton, state)) for state in range(len(automaton.arcs))}
    assert len(futures) == len(automaton.arcs), "two states with the same future"


def test_words_and_refusals() -> None:
    automaton = of_sentences([("water", "half"), ("water",)])
    assert automaton.words() == {"water", "half"}
    assert automaton.accepts(["water"])
    assert not automaton.accepts(["half"])
    assert not automaton.accepts(["water", "half", "half"])
    assert not automaton.accepts([])
