"""Spoken numbers and fractions in a transcriber's figures, and word runs that are neither."""

from __future__ import annotations

import pytest

from assistant.recogniser.inverse_normalisation import run_forms, word_forms


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
    assert figures in run_forms(tuple(spoken.split()))


@pytest.mark.parametrize(
    "spoken",
    ["hundred and", "and five", "five point", "a", "a five", "zero thirds", "five point point two"],
)
def test_what_is_no_number(spoken: str) -> None:
    assert run_forms(tuple(spoken.split())) == ()


def test_further_writings() -> None:
    assert "7-5" in run_forms(("seven", "five"))
    assert "seventy-five" in run_forms(("seventy", "five"))
    assert {"¾", "three-quarters"} <= set(run_forms(("three", "quarters")))
    assert "1,200" in run_forms(("one", "two", "zero", "zero"))
    assert "Water" in word_forms("water", first=True)
    assert "Water" not in word_forms("water", first=False)
