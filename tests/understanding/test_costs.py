"""The loss table: which row a meaning falls under, and the thresholds the costs amount to."""

from __future__ import annotations

import pytest

from assistant.messages import Answer, Meaning, Order, Report, Several
from assistant.understanding.costs import TABLE, cost_row_of
from assistant.understanding.meanings import Care, Mark


def psi(value: float) -> Report:
    return Report("pressure", float(value), "psi")


def glass(value: float) -> Report:
    return Report("water", value, "glass")


OUT = Report("water", "out of sight")


@pytest.mark.parametrize(
    ("meaning", "care", "row"),
    [
        (glass(0.3), Care.USUAL, "water"),
        (glass(0.3), Care.MARK, "grave"),
        (psi(60), Care.MARK, "number"),
        (Report("gear", "out"), Care.HOLD, "grave"),
        (Answer("yes"), Care.HOLD, "yes to a hold"),
        (Answer("no"), Care.HOLD, "no"),
        (OUT, Care.HOLD, "danger"),
        (Report("emergency", "glass broken"), Care.USUAL, "danger"),
        (Report("emergency", "over"), Care.USUAL, "grave"),
        (Several((Report("fire", "lit"), OUT)), Care.USUAL, "danger"),
        (Order("why"), Care.HOLD, "harmless"),
        (Order("how long", 60.0, "psi"), Care.USUAL, "question"),
        (Order("skip"), Care.USUAL, "lasting"),
    ],
)
def test_what_is_at_stake(meaning: Meaning, care: Care, row: str) -> None:
    assert cost_row_of(meaning, care) == row


@pytest.mark.parametrize(
    ("row", "sure"),
    [
        ("number", 0.99),
        ("water", 0.995),
        ("grave", 0.998),
        ("danger", 0.99),
        ("state", 0.99),
        ("lasting", 0.98),
        ("yes", 0.99),
        ("yes to a hold", 0.998),
        ("no", 0.90),
        ("harmless", 0.80),
        ("question", 0.95),
    ],
)
def test_the_costs_give_the_thresholds_they_are_said_to(row: str, sure: float) -> None:
    assert TABLE[row].threshold == pytest.approx(sure, abs=1e-9)


def test_water_at_the_lower_mark_is_a_danger_and_near_a_mark_is_grave() -> None:
    assert cost_row_of(glass(0.2), mark_of=lambda report: Mark.LOW) == "danger"
    assert cost_row_of(glass(0.3), mark_of=lambda report: Mark.NEAR) == "grave"


def test_several_reports_cost_as_the_dearest_of_them() -> None:
    lit = Report("fire", "lit")
    assert cost_row_of(Several((lit, glass(0.5)))) == "water"
