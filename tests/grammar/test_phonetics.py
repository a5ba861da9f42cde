"""Sentences live together must not sound alike; pairs that ears confused must count as near."""

from __future__ import annotations

from itertools import combinations

import pytest

from assistant.grammar import phonetics, phrases
from assistant.grammar.conflicts import clash, fixed_sentences
from assistant.grammar.numbers import digit_by_digit, number_words
from assistant.grammar.phonetics import alike, apart
from assistant.messages import Expected, Report

# Pairs that ears confused in measurement, even when they accepted.
CONFUSED = [
    ("injector on", "injector off"),
    ("fifteen", "fifty"),
    ("thirteen", "thirty"),
    ("nineteen", "ninety"),
    ("feed on", "feed off"),
    ("three", "free"),
]


@pytest.mark.parametrize(("one", "other"), CONFUSED)
def test_pairs_that_were_confused_are_near(one: str, other: str) -> None:
    assert alike(one, other) and alike(other, one)


# What stands in their place, and words measured to be strong.
STRONG = [
    ("injector running", "injector stopped"),
    ("feed is on", "feed is stopped"),
    ("correct", "wrong"),
    ("say again", "what next"),
    ("two thirds", "three quarters"),
    ("blower shut", "blower wide open"),
    ("undo that", "not done yet"),
]


@pytest.mark.parametrize(("one", "other"), STRONG)
def test_the_words_in_their_place_are_apart(one: str, other: str) -> None:
    assert not alike(one, other)


def test_distance_is_one() -> None:
    texts = ["fifteen", "fifty", "correct", "wrong", "water half", ""]
    for one, other in combinations(texts, 2):
        assert apart(one.split(), other.split()) == apart(other.split(), one.split()) > 0
        assert apart(one.split(), one.split()) == 0
        for third in texts:
            over = apart(one.split(), third.split()) + apart(third.split(), other.split())
            assert apart(one.split(), other.split()) <= over


def test_every_word_of_the_grammar_has_its_sounds() -> None:
    spoken = {
        word
        for kind in phrases.EXPECTED_KINDS
        for text, _ in phrases.listing(kind)
        for word in text.split()
    }
    assert not [word for word in sorted(spoken) if not phonetics.known(word)]


def test_no_two_sentences_that_are_always_live_sound_alike() -> None:
    near = [
        (" ".join(one), " ".join(other))
        for (one, meant), (other, differs) in combinations(fixed_sentences(), 2)
        if meant != differs and alike(" ".join(one), " ".join(other))
    ]
    assert not near


def test_figures_one_by_one_keep_teens_from_tens() -> None:
    for teen in range(13, 20):
        ten = (teen - 10) * 10
        assert alike(number_words(teen), number_words(ten))
        assert not alike(digit_by_digit(teen), digit_by_digit(ten))


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
