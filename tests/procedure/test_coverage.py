"""What covers each part of the trade: no row empty, nothing named that is not there."""

from __future__ import annotations

from pathlib import Path

import pytest
from procedure_story import SHIPPED  # type: ignore[import-not-found]

from assistant.alarms.rules import BY_NAME
from assistant.belief import forecast, water_forecast
from assistant.config.emergencies_file import shipped_emergencies
from assistant.procedure.phases import MOVES

TABLE = Path(__file__).parents[2] / "checklists" / "COVERAGE.md"
FIGURES = {"water trend": water_forecast.water_trend, "feed cost": forecast.feed_cost}


def rows() -> list[tuple[str, list[str]]]:
    lines = [line for line in TABLE.read_text(encoding="utf-8").splitlines() if "|" in line]
    cells = [[c.strip() for c in line.strip("|").split("|")] for line in lines]
    cells = [c for c in cells if c[0] != "what" and not set(c[0]) <= {"-"}]
    return [(c[0], [part.strip() for part in c[1].split(";")]) for c in cells if len(c) == 2]


def test_the_table_is_read() -> None:
    assert len(rows()) > 60


@pytest.mark.parametrize(("what", "covered"), rows(), ids=lambda x: x if isinstance(x, str) else "")
def test_everything_named_is_there(what: str, covered: list[str]) -> None:
    assert covered and all(covered), f"nothing covers {what!r}"
    steps = {f"{c.name} / {s.id}" for c in SHIPPED for s in c.steps}
    for part in covered:
        kind, _, name = part.partition(": ")
        there = {
            "rule": name in BY_NAME,
            "emergency": any(e.name == name for e in shipped_emergencies().entries),
            "cure": any(c.name == name and c.symptom for c in SHIPPED),
            "move": name in MOVES,
            "figure": name in FIGURES,
        }.get(kind, part in steps)
        assert there, f"{what!r}: there is no {part!r}"


def test_every_step_and_every_rule_is_in_the_table() -> None:
    named = {part for _, covered in rows() for part in covered}
    steps = {f"{c.name} / {s.id}" for c in SHIPPED if c.phase for s in c.steps}
    assert steps - named == set()
    assert {f"rule: {name}" for name in BY_NAME} - named == set()
