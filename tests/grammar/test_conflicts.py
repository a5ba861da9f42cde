"""A step's own words may not conflict with what is always accepted, in meaning or in sound."""

from __future__ import annotations

from itertools import combinations

import pytest

from assistant.grammar import phrases
from assistant.grammar.conflicts import clash, fixed_sentences
from assistant.grammar.phonetics import alike
from assistant.messages import Expected, Report


def test_no_two_sentences_that_are_always_accepted_sound_alike() -> None:
    near = [
        (" ".join(one), " ".join(other))
        for (one, meaning), (other, rival) in combinations(fixed_sentences(), 2)
        if meaning != rival and alike(" ".join(one), " ".join(other))
    ]
    assert not near


@pytest.mark.parametrize(
    ("form", "report", "why"),
    [
        ("drains open", Report("cocks", "open"), "already means"),
        ("Drains open", Report("cocks", "open"), "cannot be spoken"),
        ("blower has shut", Report("door", "shut"), "sounds too much like 'blower is shut'"),
        ("gear out", Report("gear", "out"), None),
        ("drains open", Report("drains", "open"), None),
    ],
)
def test_clash(form: str, report: Report, why: str | None) -> None:
    found = clash(form, report)
    assert found is None if why is None else found is not None and why in found


def test_clash_leaves_the_grammar_of_the_session_alone() -> None:
    before = grammar_size()
    clash("tubes swept", Report("tubes", "swept"))
    assert grammar_size() == before


def grammar_size() -> int:
    return len(phrases.grammar(Expected("state")).sentences)
