"""Distance in sound: pairs that recognisers confuse are near, the words chosen instead are not."""

from __future__ import annotations

from itertools import combinations

import pytest

from assistant.grammar import phrases
from assistant.grammar.numbers import digit_by_digit, number_words
from assistant.grammar.phoneme_table import PHONEMES
from assistant.grammar.phonetics import alike, distance

# Pairs that recognisers confused in measurement, even when they were sure.
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


# What is used in their place, and words measured to be distinct.
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


def test_it_is_a_metric() -> None:
    texts = ["fifteen", "fifty", "correct", "wrong", "water half", ""]
    for one, other in combinations(texts, 2):
        assert distance(one.split(), other.split()) == distance(other.split(), one.split()) > 0
        assert distance(one.split(), one.split()) == 0
        for third in texts:
            over = distance(one.split(), third.split()) + distance(third.split(), other.split())
            assert distance(one.split(), other.split()) <= over


def test_every_word_of_the_grammar_has_its_sounds() -> None:
    spoken = {
        word
        for kind in phrases.EXPECTED_KINDS
        for text, _ in phrases.listing(kind)
        for word in text.split()
    }
    listed = {entry.split()[0] for entry in PHONEMES.split(";")}
    assert not spoken - listed


def test_figures_one_by_one_keep_teens_from_tens() -> None:
    for teen in range(13, 20):
        ten = (teen - 10) * 10
        assert alike(number_words(teen), number_words(ten))
        assert not alike(digit_by_digit(teen), digit_by_digit(ten))
