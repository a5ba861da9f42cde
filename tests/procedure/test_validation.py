"""Validation of lists, of the phases together, on an engine, and of emergencies."""

from __future__ import annotations

from dataclasses import replace

import pytest
from procedure_story import ENGINE, PHASES  # type: ignore[import-not-found]

from assistant.errors import Problem
from assistant.grammar.phonetics import alike
from assistant.messages import Report
from assistant.procedure.checklist import Bound, Checklist, Limits, Phase, Reply, Step
from assistant.procedure.emergency import Emergencies, Emergency
from assistant.procedure.validation import (
    chain_objections,
    emergency_objections,
    engine_objections,
    objections,
    sections,
)


@pytest.fixture
def phases() -> dict[Phase, Checklist]:
    return PHASES


GOOD = Step(
    id="pan", say="Clear the ash pan.", asks="ash pan", kind="act", why="Air.", line=7,
    replies=(Reply("clean", ("ash pan clean",)),), source="common practice, no source",
)  # fmt: skip


VALUE = Step(
    id="water", say="Where is it?", asks="water", kind="value", why="Plates.", killer=True,
    limits=Limits(Bound("lower mark"), None, "Low.", ""), line=9,
)  # fmt: skip


def found(*steps: Step) -> list[str]:
    listed = Checklist(name="a", title="A", phase=Phase.FIRING, steps=steps, file="a.yaml")
    return [str(p) for p in objections(listed, alike=alike)]


def test_a_good_list_has_no_objection() -> None:
    assert found(VALUE, GOOD) == []


def test_loops_long_lists_late_killers_and_twins() -> None:
    loop = [replace(GOOD, id="a", after=("b",)), replace(GOOD, id="b", after=("a",))]
    assert any("wait for each other: a, b" in p for p in found(*loop))
    ten = [replace(GOOD, id=f"step {i}") for i in range(10)]
    assert any("10 steps" in p for p in found(*ten))
    ten[4] = replace(ten[4], pause=True)
    assert not any("10 steps" in p for p in found(*ten))
    assert any("after the first third" in p for p in found(GOOD, replace(GOOD, id="b"), VALUE))
    assert any("stands twice" in p for p in found(GOOD, GOOD))
    assert any("there is no step" in p for p in found())


def test_steps_that_exclude_one_another_count_once() -> None:
    nine = [replace(GOOD, id=f"step {i}") for i in range(8)]
    either = [replace(GOOD, id="x", when=("grease",)), replace(GOOD, id="y", when=("not grease",))]
    assert not any("without a pause" in p for p in found(*nine, *either))


def test_a_collision_with_the_grammar_is_told() -> None:
    listed = Checklist(name="a", title="A", phase=Phase.FIRING, steps=(GOOD,), file="a.yaml")

    def collides(form: str, report: Report) -> str | None:
        return f"{form!r} means something else already" if report.what == "ash pan" else None

    assert "means something else" in objections(listed, collides)[0].message


def test_sections_end_at_pauses() -> None:
    steps = [replace(GOOD, id=str(i), pause=i == 1) for i in range(5)]
    assert [len(s) for s in sections(steps)] == [2, 3]


def test_a_missing_phase_is_dead(phases: dict[Phase, Checklist]) -> None:
    lists = [c for p, c in phases.items() if p is not Phase.PUMPING]
    assert any("'pumping'" in str(p) for p in chain_objections(lists))


def test_water_must_come_back_at_the_gate(phases: dict[Phase, Checklist]) -> None:
    firing = phases[Phase.FIRING]
    bare = replace(firing, steps=firing.steps[:-1])
    lists = [bare if c is firing else c for c in phases.values()]
    problems: list[Problem] = list(chain_objections(lists))
    assert len(problems) == 1 and "not asked again" in str(problems[0])


def test_what_cannot_be_on_an_engine_is_told() -> None:
    never = replace(GOOD, due=Bound("valve lifts", 1.2))
    nothing = replace(VALUE, limits=Limits(Bound("upper mark"), Bound("lower mark"), "a", "b"))
    beyond = replace(
        VALUE, asks="pressure", limits=Limits(None, Bound("gauge top", 1.5), "", "High.")
    )
    listed = Checklist(name="a", title="A", phase=Phase.FIRING, steps=(never, nothing, beyond))
    said = [p.message for p in engine_objections(listed, ENGINE)]
    assert len(said) == 3
    assert "never due" in said[0] and "no value" in said[1] and "outside the pressure" in said[2]


def test_emergencies_are_proved() -> None:
    good = Emergency(name="a", acts=("Stand back.",), why="Heat.", source="common practice")
    ending = "Then the engine's instructions and a competent person."
    assert emergency_objections(Emergencies(entries=(good,), ending=ending)) == ()
    bad = replace(good, acts=("One.", "Two.", "Three.", "Four " * 13), source="")
    said = [p.message for p in emergency_objections(Emergencies(entries=(bad, bad), ending="Bye."))]
    for part in ("4 acts", "13 words", "no source", "stands twice", "competent person"):
        assert any(part in text for text in said), part
    empty = replace(good, acts=())
    assert emergency_objections(Emergencies(entries=(empty,), ending=ending))
