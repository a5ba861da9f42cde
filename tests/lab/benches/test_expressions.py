"""Expressions become automata that accept exactly their sentences and stay small."""

from __future__ import annotations

from listed_automaton import listed

from assistant.lab.benches.expressions import alt, any_order, build, opt, seq


def test_parts_in_any_order_each_at_most_once() -> None:
    automaton = build(seq(any_order(opt("x"), opt("y")), "end"))
    assert listed(automaton) == {
        ("end",), ("x", "end"), ("y", "end"), ("x", "y", "end"), ("y", "x", "end"),
    }  # fmt: skip


def test_a_thousand_million_sentences_stay_small() -> None:
    ten = alt(*(f"word{n}" for n in range(10)))
    automaton = build(seq(*[ten] * 9))
    assert automaton.count() == 10**9
    assert len(automaton.arcs) == 10
