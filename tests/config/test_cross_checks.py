"""Problems that only files together have: emergencies without alarms, dangers without acts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from assistant.config.checklist_file import shipped_checklists
from assistant.config.cross_checks import list_problems, problems_together
from assistant.config.emergencies_file import shipped_emergencies
from assistant.config.engine_file import find_engine
from assistant.procedure.emergency import Emergencies


def test_what_ships_fits_together() -> None:
    lists = shipped_checklists()
    engines = [find_engine(name).engine for name in ("practice", "copper", "fullsize")]
    assert problems_together(lists, engines, shipped_emergencies()) == ()
    assert [problem for checklist in lists for problem in list_problems(checklist)] == []


def without(name: str) -> Emergencies:
    emergencies = shipped_emergencies()
    left = tuple(entry for entry in emergencies.entries if entry.name != name)
    assert len(left) < len(emergencies.entries)
    return replace(emergencies, entries=left)


@pytest.mark.parametrize("name", ["low water", "over-pressure"])
def test_a_danger_without_acts_is_a_problem(name: str) -> None:
    problems = problems_together((), (), without(name))
    assert any(f"nothing is said for the danger {name!r}" in p.message for p in problems)


def test_an_emergency_of_an_unknown_alarm_is_a_problem_at_its_line() -> None:
    emergencies = shipped_emergencies()
    first = replace(emergencies.entries[0], alarms=("low watr",), spoken=())
    changed = replace(emergencies, entries=(first, *emergencies.entries[1:]))
    (problem,) = (p for p in problems_together((), (), changed) if "no alarm" in p.message)
    assert problem.line == first.line
    assert "did you mean 'low water'" in problem.message


def test_one_problem_of_two_engines_names_each() -> None:
    engine = find_engine("practice").engine
    low = replace(
        engine,
        name="Low gauge",
        gauge_top_pa=engine.working_pressure_gauge_pa / 4,
    )
    problems = problems_together(shipped_checklists(), (engine, low))
    assert problems
    assert all("(Low gauge)" in problem.message for problem in problems)
