"""The glass of an engine file: marks and water in an order that a boiler can have."""

from __future__ import annotations

import pytest

from assistant.boiler.figures import Glass
from assistant.config.engine_glass import glass_of
from assistant.config.positioned_yaml import Problems, parse

GLASS = """\
visible: 160 mm
lower_mark: 0.25
upper_mark: 0.85
cold_fill: 0.5
water: {0.0: 68 litre, 1.0: 96 litre}
"""


def read(text: str) -> tuple[Glass | None, list[str]]:
    problems = Problems("e.yaml")
    glass = glass_of(problems, parse(text, problems), volume_m3=0.11)
    return glass, [str(problem).removeprefix("e.yaml:") for problem in problems.sorted()]


def test_a_glass_in_si() -> None:
    glass, problems = read(GLASS)
    assert problems == []
    assert glass == Glass(0.16, 0.25, 0.85, 0.5, ((0.0, 68.0), (1.0, 96.0)))


@pytest.mark.parametrize(
    ("old", "new", "problem"),
    [
        ("lower_mark: 0.25", "lower_mark: 0.9", "marks upside down"),
        ("cold_fill: 0.5", "cold_fill: 0.1", "'cold_fill' is below 'lower_mark'"),
        ("cold_fill: 0.5", "cold_fill: 0.95", "'cold_fill' is above 'upper_mark'"),
        ("visible: 160 mm", "visible: 16 m", "is out of range (10 mm to 1500 mm)"),
        ("{0.0: 68 litre, 1.0: 96 litre}", "{0.0: 68 litre}", "two heights or more are wanted"),
        ("1.0: 96 litre", "1.0: 60 litre", "the litres must rise with the height"),
        ("1.0: 96 litre", "1.0: 120 litre", "120 litre in 110 litre"),
        ("0.0: 68 litre, 1.0: 96", "1.0: 68 litre, 0.5: 96", "the heights must rise"),
    ],
)
def test_an_impossible_glass_is_refused(old: str, new: str, problem: str) -> None:
    assert old in GLASS
    _, problems = read(GLASS.replace(old, new))
    assert any(problem in found for found in problems), problems


def test_without_all_its_figures_there_is_no_glass() -> None:
    assert read(GLASS.replace("cold_fill: 0.5\n", ""))[0] is None
