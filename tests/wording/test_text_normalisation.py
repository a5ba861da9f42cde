"""Figures in reasons become words; nothing else is touched."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.wording.text_normalisation import spelled


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("60 to 95 in 1 minute", "sixty to ninety five in one minute"),
        ("120 psi", "a hundred and twenty pounds"),
        ("1 psi", "one pound"),
        (
            "glass 0.50, +0.03 by expansion",
            "glass zero point five, plus zero point zero three by expansion",
        ),
        ("-0.0012 of the glass", "minus about zero of the glass"),
        ("12.4 kilowatts", "twelve point four kilowatts"),
        ("20% off", "twenty percent off"),
        ("20 % off", "twenty percent off"),
        ("4000 pounds", "four zero zero zero pounds"),
        ("no figures here", "no figures here"),
        ("checklist v2 stays", "checklist v2 stays"),
        ("", ""),
    ],
)  # fmt: skip
def test_spelled(text: str, said: str) -> None:
    assert spelled(text) == said


@given(st.floats(-5000, 5000, allow_nan=False), st.sampled_from(["", " psi", " %", " kW", " mm"]))
def test_no_figure_is_left_standing(value: float, unit: str) -> None:
    said = spelled(f"it is {value:.3f}{unit} now")
    assert not any(letter.isdigit() for letter in said)
    assert said.startswith("it is ") and said.endswith(" now")
    assert spelled(said) == said
