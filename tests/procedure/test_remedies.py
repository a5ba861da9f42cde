"""Symptom -> ordered checks, until it is cured or nothing is left."""

from __future__ import annotations

import pytest
from procedure_story import CURES, ENGINE  # type: ignore[import-not-found]

from assistant.boiler.figures import Engine
from assistant.messages import Report
from assistant.procedure.checklist import Checklist
from assistant.procedure.position import current, put_step
from assistant.procedure.progress import answer, start_list
from assistant.procedure.remedies import CURED, outcome, remedy_calls, remedy_for


@pytest.fixture
def engine() -> Engine:
    return ENGINE


@pytest.fixture
def cures() -> tuple[Checklist, ...]:
    return CURES


def test_every_cure_is_called_by_its_symptoms_and_by_no_other(
    cures: tuple[Checklist, ...],
) -> None:
    forms = remedy_calls(cures)
    assert len({form for form, _ in forms}) == len(forms)
    for form, report in forms:
        cure = remedy_for(cures, report)
        assert cure is not None and form in cure.symptom
    assert remedy_for(cures, Report("water", 0.5, "glass")) is None
    assert remedy_for(cures, Report("cure", "hiccups")) is None


def test_the_eight_cures_are_there(cures: tuple[Checklist, ...]) -> None:
    assert {c.name for c in cures} == {
        "pump_trouble", "fire_trouble", "pressure_hangs", "blower_weak", "priming",
        "injector_trouble", "glass_trouble", "gauge_trouble",
    }  # fmt: skip


def test_the_pump_is_looked_at_in_the_trades_order(
    engine: Engine, cures: tuple[Checklist, ...]
) -> None:
    pump = next(c for c in cures if c.name == "pump_trouble")
    p, time, seen = start_list(pump, engine, 0), 0.0, []
    while (step := current(p)) is not None:
        seen.append(step.id)
        assert outcome(p) is None
        time += 60
        p = answer(put_step(p, step), Report(step.asks, "still there"), time).progress
    assert seen == [
        "bypass and suction", "tank and strainer", "tap the valve box", "prime the pump",
        "suction leak", "delivery pipe hot", "clack stop valve", "tap the clack", "packing",
    ]  # fmt: skip
    assert outcome(p) == "not cured"


def test_a_cure_ends_when_it_works(engine: Engine, cures: tuple[Checklist, ...]) -> None:
    for cure in cures:
        p = start_list(cure, engine, 0)
        if any(step.hold for step in p.steps):
            continue  # its hold comes first, see below
        if cure.name == "gauge_trouble":  # the cock is looked at first
            p = answer(put_step(p, p.steps[0]), Report("gauge cock", "open"), 1).progress
        for state in ("still there", CURED):
            step = current(p)
            assert step is not None
            p = answer(put_step(p, step), Report(step.asks, state), 1).progress
        assert outcome(p) == "cured"


def test_priming_is_not_over_before_the_water_was_read(
    engine: Engine, cures: tuple[Checklist, ...]
) -> None:
    p = start_list(next(c for c in cures if c.name == "priming"), engine, 0)
    for report in (Report("drains", "open"), Report("priming", CURED)):
        step = current(p)
        assert step is not None
        p = answer(put_step(p, step), report, 1).progress
    assert outcome(p) is None
    water = current(p)
    assert water is not None and (water.asks, water.killer, water.hold) == ("water", True, True)
    low = answer(put_step(p, water), Report("water", 0.1, "glass"), 2)
    assert outcome(low.progress) is None and "Stop the heat" in low.say
    p = answer(put_step(p, water), Report("water", 0.5, "glass"), 3).progress
    assert outcome(p) == "cured"
