"""Numbers with units, reports and orders in words."""

from __future__ import annotations

import pytest

from assistant.grammar.phrases import grammar
from assistant.messages import ORDERS, Answer, Expected, Order, Report
from assistant.wording.quantities import (
    dial_rounded,
    level_words,
    meaning_words,
    quantity_words,
    report_words,
    sentence,
    unit_after,
    word_count,
)


def test_orders_are_named_in_words_that_are_accepted() -> None:
    for name in ORDERS:
        assert meaning_words(Order(name))
    assert meaning_words(Answer("yes")) == "correct"
    assert meaning_words(Order("how long", 60.0, "psi")) == "how long to sixty pounds"
    made = grammar(Expected())
    for meaning in set(made.sentences.values()):
        if isinstance(meaning, Order):
            assert made.parse(meaning_words(meaning)) == meaning


@pytest.mark.parametrize(
    ("text", "count"), [("", 0), ("One two-three. It's four?", 4), ("a - b", 2)]
)
def test_word_count(text: str, count: int) -> None:
    assert word_count(text) == count


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (1.0, "psi", "one pound"),
        (1.0, "bar", "one bar"),
        (2.5, "bar", "two point five bar"),
        (1.0, "inch", "one inch"),
        (3.0, "US_gallon", "three American gallons"),
        (7.0, "kgf/cm2", "seven kilos"),
        (3.0, "furlong", "three furlong"),
    ],
)
def test_one_and_several(value: float, unit: str, words: str) -> None:
    assert quantity_words(value, unit) == words


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (0.0, "glass", "at the very bottom"),
        (0.0, "tank", "empty"),
        (0.05, "glass", "just showing"),
        (0.05, "tank", "nearly empty"),
        (0.9, "glass", "nine tenths"),
        (0.63, "glass", "five eighths"),
    ],
)
def test_levels(value: float, unit: str, words: str) -> None:
    assert level_words(value, unit) == words


@pytest.mark.parametrize(
    ("pressure", "unit", "rounded"),
    [(62.4, "psi", 62.0), (62.6, "kPa", 63.0), (4.26, "bar", 4.3), (0.04, "kgf/cm2", 0.0)],
)
def test_a_pressure_is_rounded_to_what_its_dial_shows(
    pressure: float, unit: str, rounded: float
) -> None:
    assert dial_rounded(pressure, unit) == rounded


def test_the_dials_own_unit_and_a_fraction_are_not_named() -> None:
    assert unit_after(Report("pressure", 5.0, "bar"), "bar") == ""
    assert unit_after(Report("pressure", 1.0, "psi"), "bar") == " pound"
    assert unit_after(Report("water", 0.5, "glass"), "bar") == ""


def test_a_call_is_said_by_its_name_alone() -> None:
    assert report_words(Report("cure", "pump_trouble")) == "pump trouble"
    assert report_words(Report("gear", "out")) == "gear out"


def test_a_sentence_keeps_its_own_end() -> None:
    assert sentence("where is it?") == "Where is it?"
    assert sentence("  ") == ""
    assert sentence("60 psi", "!") == "Sixty pounds!"
