"""Automata accept exactly their sentences and are as small as they can be."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from assistant.recogniser.automaton import Automaton, alt, any_order, build, of_sentences, opt, seq

WORDS = st.lists(st.sampled_from("abc"), min_size=1, max_size=4).map(tuple)


def listed(made: Automaton, state: int | None = None) -> set[tuple[str, ...]]:
    at = made.start if state is None else state
    found = {()} if at in made.ends else set()
    for word, after in made.arcs[at].items():
        found |= {(word, *rest) for rest in listed(made, after)}
    return found


@given(st.sets(WORDS, min_size=1, max_size=20))
def test_a_list_becomes_exactly_its_sentences(sentences: set[tuple[str, ...]]) -> None:
    made = of_sentences(sentences)
    assert listed(made) == sentences
    assert made.count() == len(sentences)
    futures = {frozenset(listed(made, state)) for state in range(len(made.arcs))}
    assert len(futures) == len(made.arcs), "two states with the same future"


def test_parts_in_any_order_each_at_most_once() -> None:
    made = build(seq(any_order(opt("x"), opt("y")), "end"))
    assert listed(made) == {
        ("end",), ("x", "end"), ("y", "end"), ("x", "y", "end"), ("y", "x", "end"),
    }  # fmt: skip


def test_a_thousand_million_sentences_stay_small() -> None:
    ten = alt(*(f"word{n}" for n in range(10)))
    made = build(seq(*[ten] * 9))
    assert made.count() == 10**9
    assert len(made.arcs) == 10


def test_words_and_refusals() -> None:
    made = build(alt("water half", "water"))
    assert made.words() == {"water", "half"}
    assert made.accepts(["water"])
    assert not made.accepts(["half"])
    assert not made.accepts(["water", "half", "half"])
    assert not made.accepts([])
