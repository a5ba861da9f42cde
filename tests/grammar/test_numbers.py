"""Spoken numbers: words with their values, words that are no number, one value for each form."""

from __future__ import annotations

from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.grammar import numbers

MEANS: dict[str, float] = {
    "zero": 0, "nought": 0, "five": 5, "ten": 10, "one zero": 10, "one oh": 10,
    "fifteen": 15, "one five": 15, "fifty": 50, "five zero": 50, "five oh": 50,
    "twenty five": 25, "two five": 25, "seventy five": 75, "seven five": 75,
    "ninety nine": 99, "niner niner": 99, "nine nine": 99, "four niner": 49,
    "a hundred": 100, "one hundred": 100, "hundred": 100, "one zero zero": 100, "one oh oh": 100,
    "one oh five": 105, "one zero five": 105, "a hundred and five": 105, "one hundred five": 105,
    "one ten": 110, "a hundred and ten": 110, "hundred and ten": 110, "one hundred ten": 110,
    "one one zero": 110, "one twenty": 120, "one two zero": 120, "one two oh": 120,
    "one hundred and twenty": 120, "one twenty five": 125, "one two five": 125,
    "a hundred and twenty five": 125, "two hundred": 200, "two fifty": 250, "two five zero": 250,
    "two hundred and six": 206, "three hundred": 300, "three oh oh": 300,
    "five point five": 5.5, "five and a half": 5.5, "two and a half": 2.5, "point five": 0.5,
    "nought point five": 0.5, "zero point five": 0.5, "one two point five": 12.5,
    "twelve point five": 12.5, "three and a quarter": 3.25, "three and three quarters": 3.75,
    "three point two five": 3.25, "seven hundred and fifty": 750, "seven fifty": 750,
    "twelve hundred": 1200, "one thousand two hundred": 1200, "one two zero zero": 1200,
    "a thousand and five": 1005, "twelve fifty": 1250, "two thousand": 2000,
}  # fmt: skip

REFUSED = (
    "", "oh", "oh five", "o five", "zero five", "seventy fifteen", "twenty ten", "fifteen five",
    "seven five fifty", "one twenty one five", "hundred five", "a five", "five hundred and",
    "and five", "point", "five point", "point five point five", "five point fifteen", "half",
    "a half", "two halves", "ten hundred", "twenty hundred", "one and twenty", "double five",
    "seventy  five", "seventyfive", "75", "Seventy five", "minus five", "niner", "fife",
    "three thousand", "five five five five", "one hundred hundred", "fifteen teen",
)  # fmt: skip


@cache
def values() -> dict[tuple[str, ...], set[float]]:
    """Every form of whole numbers to 2999 and of tenths and quarters below 100, with its values."""
    whole = [float(value) for value in range(numbers.LARGEST + 1)]
    tenths = [count / 10 for count in range(1000)]
    quarters = [count / 4 for count in range(400)]
    table: dict[tuple[str, ...], set[float]] = {}
    for value in (*whole, *tenths, *quarters):
        for form in numbers.spoken_forms(value):
            table.setdefault(form, set()).add(value)
    return table


@pytest.mark.parametrize(("text", "value"), MEANS.items())
def test_spoken_numbers_have_one_value(text: str, value: float) -> None:
    assert tuple(text.split(" ")) in numbers.spoken_forms(value)
    assert values()[tuple(text.split(" "))] == {value}


@pytest.mark.parametrize("text", REFUSED)
def test_other_words_are_refused(text: str) -> None:
    assert tuple(text.split(" ")) not in values()


def test_no_form_means_two_numbers() -> None:
    assert not [form for form, meant in values().items() if len(meant) > 1]


# How the figures 13-19 and 30-90 are told apart when it matters: Institute for Safe Medication
# Practices and others advise "one five" for fifteen (reference figures, from memory).
@pytest.mark.parametrize(
    ("value", "whole", "row"),
    [
        (15, "fifteen", "one five"),
        (50, "fifty", "five zero"),
        (75, "seventy five", "seven five"),
        (100, "a hundred", "one zero zero"),
        (105, "a hundred and five", "one zero five"),
        (120, "a hundred and twenty", "one two zero"),
        (5.5, "five point five", "five point five"),
        (0.5, "zero point five", "zero point five"),
        (0, "zero", "zero"),
        (0.25, "zero point two five", "zero point two five"),
        (1200, "a thousand two hundred", "one two zero zero"),
    ],
)
def test_numbers_are_said_whole_and_figure_by_figure(value: float, whole: str, row: str) -> None:
    assert numbers.number_words(value) == whole
    assert numbers.digit_by_digit(value) == row


@given(st.one_of(st.integers(0, numbers.LARGEST), st.integers(0, 999).map(lambda n: n / 10)))
def test_what_is_said_whole_or_by_digits_is_an_accepted_form(value: float) -> None:
    for text in (numbers.number_words(value), numbers.digit_by_digit(value)):
        assert tuple(text.split()) in numbers.spoken_forms(value)


@pytest.mark.parametrize("value", [-1, 3000, 1.234, float("nan")])
def test_what_cannot_be_said_is_an_error(value: float) -> None:
    with pytest.raises(ValueError):
        numbers.spoken_forms(value)


def test_what_is_beyond_every_dial_is_still_said() -> None:
    assert numbers.number_words(4000) == "four zero zero zero"
    assert numbers.number_words(-2.5) == "minus two point five"
    for value in (float("nan"), float("inf"), float("-inf")):
        with pytest.raises(ValueError):
            numbers.number_words(value)
