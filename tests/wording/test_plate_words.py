"""The engine and her figures, as they are said at the start."""

from __future__ import annotations

import pytest

from assistant.wording.plate_words import plate_open, plate_question, plate_wrong
from assistant.wording.quantities import word_count


@pytest.mark.parametrize(
    ("allowed", "unit", "said"),
    [
        (120.0, "psi", "Allowed a hundred and twenty pounds."),
        (8.27, "bar", "Allowed eight point three bar."),
        (827.4, "kPa", "Allowed eight hundred and twenty seven kilopascals."),
    ],
)
def test_what_is_allowed_in_the_unit_of_the_dial(allowed: float, unit: str, said: str) -> None:
    words = plate_question("Little engine", allowed, 0.9 * allowed, allowed, (0.25, 0.75), unit)
    marks = "Lower mark one quarter, upper three quarters."
    assert words == f"Little engine. {said} {marks} Is that her plate?"


def test_without_an_allowed_pressure_what_is_wanted_and_the_lift() -> None:
    words = plate_question("Little engine", None, 110.0, 125.0, (0.25, 0.75), "psi")
    assert words.startswith(
        "Little engine. Wanted pressure a hundred and ten pounds."
        " Valve lifts at a hundred and twenty five pounds. Lower mark"
    )
    assert "llowed" not in words


def test_few_words() -> None:
    words = plate_question("Little engine", None, 110.0, 125.0, (0.25, 0.85), "psi")
    for text in (words, plate_open(), plate_wrong()):
        assert all(word_count(part) <= 9 for part in text.replace("?", ".").split("."))
