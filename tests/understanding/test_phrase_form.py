"""The form of a phrase: what tells a long answer from a short word and a bare number."""

from __future__ import annotations

import pytest

from assistant.messages import Answer, Correction, Expected, Meaning, Order, Report, Several
from assistant.understanding.phrase_form import phrase_form

SIXTY = Report("pressure", 60.0, "psi")
HALF = Report("water", 0.5, "glass")
GEAR = Expected("state", (("out of gear", Report("gear", "out")),))


@pytest.mark.parametrize(
    ("meaning", "words", "expected", "form"),
    [
        (SIXTY, "sixty", Expected("pressure"), "bare"),
        (SIXTY, "pounds", Expected("pressure"), "bare"),  # a unit alone names nothing
        (SIXTY, "sixty pounds", Expected("any"), "named"),
        (SIXTY, "sixty pounds", Expected("pressure"), "reading asked for"),
        (HALF, "half a glass", Expected("pressure"), "named"),
        (HALF, "glass half", Expected("water"), "reading asked for"),
        (Answer("yes"), "yes", Expected("answer"), "word"),
        (Order("repeat"), "say again", Expected(), "word"),  # eight letters
        (Order("hush"), "quiet please", Expected(), "phrase"),
        (Correction(SIXTY), "no i said sixty pounds", Expected("answer"), "bare"),
        (Several((SIXTY, HALF)), "pressure sixty water half", Expected(), "named"),
        (Report("gear", "out"), "out of gear", GEAR, "phrase asked for"),
        (Report("fire", "lit"), "the fire is lit", GEAR, "phrase"),
        (Report("fire", "lit"), "fire lit", GEAR, "named"),
    ],
)
def test_form(meaning: Meaning, words: str, expected: Expected, form: str) -> None:
    assert phrase_form(meaning, words, expected) == form
