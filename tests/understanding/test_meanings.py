"""What a meaning would put in the book, and which meanings are a danger."""

from __future__ import annotations

import pytest

from assistant.messages import Answer, Correction, Meaning, Order, Report, Several
from assistant.understanding.meanings import Mark, is_danger, reports_in


def psi(value: float) -> Report:
    return Report("pressure", float(value), "psi")


def glass(value: float) -> Report:
    return Report("water", value, "glass")


OUT = Report("water", "out of sight")


@pytest.mark.parametrize(
    ("meaning", "danger"),
    [
        (OUT, True),
        (Correction(OUT), True),
        (Several((psi(75), OUT)), True),
        (Report("emergency", "someone hurt"), True),
        (Report("emergency", "over"), False),
        (glass(0.1), False),  # without an engine no height is low
        (Order("stop"), False),
    ],
)
def test_a_danger_is_found_in_whatever_reports_it(meaning: Meaning, danger: bool) -> None:
    assert is_danger(meaning) is danger


def test_water_at_the_lower_mark_is_a_danger() -> None:
    assert is_danger(glass(0.2), lambda report: Mark.LOW)
    assert not is_danger(glass(0.3), lambda report: Mark.NEAR)


def test_the_reports_in_a_meaning() -> None:
    lit = Report("fire", "lit")
    assert reports_in(Several((lit, glass(0.5)))) == (lit, glass(0.5))
    assert reports_in(Correction(psi(65))) == (psi(65),)
    assert reports_in(Answer("yes")) == ()
    assert reports_in(None) == ()
