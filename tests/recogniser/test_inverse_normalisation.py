"""Spoken numbers and fractions in a transcriber's figures, and word runs that are neither."""

from __future__ import annotations

import pytest

from assistant.recogniser.inverse_normalisation import written_numbers, written_words


@pytest.mark.parametrize(
    ("spoken", "figures"),
    [
        ("seven five", "75"),
        ("seventy five", "75"),
        ("one two zero", "120"),
        ("one oh five", "105"),
        ("one twenty five", "125"),
        ("one hundred and twenty five", "125"),
        ("a hundred and four", "104"),
        ("hundred six", "106"),
        ("two hundred", "200"),
        ("one thousand two hundred", "1200"),
        ("niner zero", "90"),
        ("five point five", "5.5"),
        ("point five", "0.5"),
        ("twenty zero", "200"),
        ("three quarters", "3/4"),
        ("a half", "1/2"),
        ("two and a half", "2 1/2"),
    ],
)
def test_figures(spoken: str, figures: str) -> None:
    assert figures in written_numbers(tuple(spoken.split()))


@pytest.mark.parametrize(
    "spoken",
    ["hundred and", "and five", "five point", "a", "a five", "zero thirds", "five point point two"],
)
def test_what_is_not_a_number(spoken: str) -> None:
    assert written_numbers(tuple(spoken.split())) == ()


def test_further_spellings() -> None:
    assert "7-5" in written_numbers(("seven", "five"))
    assert "seventy-five" in written_numbers(("seventy", "five"))
    assert {"¾", "three-quarters"} <= set(written_numbers(("three", "quarters")))
    assert "1,200" in written_numbers(("one", "two", "zero", "zero"))
    assert "Water" in written_words("water", first=True)
    assert "Water" not in written_words("water", first=False)
