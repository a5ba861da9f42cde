"""Problems that only files together have: emergencies without alarms, dangers without acts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from assistant.config.checklist_file import shipped_checklists
from assistant.config.cross_checks import cautions_together, list_problems, problems_together
from assistant.config.emergencies_file import shipped_emergencies
from assistant.config.engine_file import find_engine
from assistant.errors import Problem
from assistant.procedure.checklist import Checklist
from assistant.procedure.emergency import Emergencies


def test_what_ships_fits_together() -> None:
    lists = shipped_checklists()
    engines = [find_engine(name).engine for name in ("practice", "copper", "fullsize")]
    assert problems_together(lists, engines, shipped_emergencies()) == ()
    assert [problem for checklist in lists for problem in list_problems(checklist)] == []


def changed(list_name: str, step_id: str, warm: str) -> tuple[Checklist, ...]:
    """The shipped lists with another warm form of one step."""
    return tuple(
        replace(
            c, steps=tuple(replace(s, warm=warm) if s.id == step_id else s for s in c.steps)
        )
        if c.name == list_name
        else c
        for c in shipped_checklists()
    )  # fmt: skip


def test_a_warm_form_that_is_not_there_is_a_problem_at_its_step() -> None:
    lists = changed("preparation", "gauge at zero", "raising_steam/first movment")
    (problem,) = problems_together(lists)
    assert "'warm': there is no step 'raising_steam/first movment'" in problem.message
    assert problem.line > 1 and problem.file.endswith("preparation.yaml")


def test_a_killer_that_lapses_into_nothing_is_a_caution_and_no_problem() -> None:
    lists = changed("preparation", "gauge at zero", "")
    assert problems_together(lists) == ()
    (caution,) = cautions_together(lists)
    assert "'gauge at zero': it lapses once she is in steam" in caution.message
    assert cautions_together(shipped_checklists()) == ()


def test_an_owners_list_in_the_place_of_the_warm_one_is_a_caution_too() -> None:
    lists = tuple(
        replace(c, name="mine") if c.name == "raising_steam" else c for c in shipped_checklists()
    )
    assert problems_together(lists) == ()
    told = [c.message for c in cautions_together(lists)]
    assert told and all("there is no list 'raising_steam'" in text for text in told)


def without(name: str) -> Emergencies:
    emergencies = shipped_emergencies()
    left = tuple(entry for entry in emergencies.entries if entry.name != name)
    assert len(left) < len(emergencies.entries)
    return replace(emergencies, entries=left)


@pytest.mark.parametrize("name", ["low water", "over-pressure"])
def test_a_danger_without_acts_is_a_problem(name: str) -> None:
    problems = problems_together((), (), without(name))
    assert any(f"nothing is said for the danger {name!r}" in p.message for p in problems)


def owners(*acts: str, alarms: tuple[str, ...] = ("low water",)) -> Emergencies:
    """An owner's file with these acts for water in sight at the mark."""
    shipped = shipped_emergencies()
    low = next(entry for entry in shipped.entries if entry.name == "low water")
    others = tuple(e for e in shipped.entries if e is not low and e.name != "water out of sight")
    changed = replace(low, acts=acts or low.acts, alarms=alarms)
    return replace(shipped, entries=(changed, *others), general=False)


def asks_to_feed_at_the_mark(emergencies: Emergencies) -> list[Problem]:
    found = cautions_together(shipped_checklists(), emergencies)
    return [caution for caution in found if "may this engine be fed?" in caution.message]


def test_an_owner_is_asked_whether_to_feed_with_water_in_sight_at_the_mark() -> None:
    lists = shipped_checklists()
    (caution,) = asks_to_feed_at_the_mark(owners())
    assert "may this engine be fed? Sources differ" in caution.message and caution.line > 1
    both = owners("No feed.", alarms=("low water", "water out of sight"))
    (caution,) = asks_to_feed_at_the_mark(both)
    assert caution.message.endswith("apart from water out of sight")
    (caution,) = asks_to_feed_at_the_mark(owners("Damper shut."))
    assert "may this engine be fed?" in caution.message
    assert asks_to_feed_at_the_mark(owners("Damper shut.", "Feed gently.")) == []
    assert cautions_together(lists, shipped_emergencies()) == (), "the general file may not say"


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
