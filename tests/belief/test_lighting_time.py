"""When to light up, from the engine file alone and from earlier runs."""

from __future__ import annotations

from dataclasses import replace

import pytest
from boiler_engines import COPPER, FULL, PSI, RAISING, STEEL

from assistant.belief.lighting_time import light_up
from assistant.boiler.figures import Engine, UsualRise
from assistant.messages import Report

DONE = (
    *RAISING,
    (3780.0, Report("pressure", 65, "psi")),
    (4080.0, Report("pressure", 85, "psi")),
    (4380.0, Report("pressure", 105, "psi")),
    (4620.0, Report("pressure", 120, "psi")),
)
TOOK_MIN = (4620.0 - 300.0) / 60.0


def test_plan_from_the_engine_file_alone() -> None:
    plan = light_up(STEEL, (), 10.5 * 3600.0)
    assert plan.runs == 0
    assert "engine file" in plan.why
    assert plan.sure_s < plan.light_s < 10.5 * 3600.0
    assert plan.light_s == pytest.approx(10.5 * 3600.0 - 60.0 * plan.minutes.mid)


def test_plan_from_what_was_learned() -> None:
    plan = light_up(STEEL, (DONE, DONE, DONE), 10.5 * 3600.0)
    assert plan.runs == 3
    assert "3 earlier runs" in plan.why
    assert (10.5 * 3600.0 - plan.light_s) / 60.0 == pytest.approx(TOOK_MIN, rel=0.1)
    assert plan.light_s - plan.sure_s < 30 * 60.0


def test_no_plan_for_a_valve_that_lifts_too_soon() -> None:
    low = replace(STEEL, valve_lifts_gauge_pa=100 * PSI)
    with pytest.raises(ValueError, match="valve"):
        light_up(low, (), 36_000.0)


@pytest.mark.parametrize("engine", [COPPER, STEEL, FULL], ids=lambda e: e.name)
@pytest.mark.parametrize("minutes", [25.0, 60.0, 200.0])
def test_plan_from_the_owners_word(engine: Engine, minutes: float) -> None:
    """As often early as late, and the owner is trusted within a fifth or so."""
    told = replace(
        engine,
        fire_rate_w=None,
        usual=UsualRise(60.0 * minutes, engine.working_pressure_gauge_pa),
    )
    plan = light_up(told, (), 10.5 * 3600.0)
    assert plan.minutes.mid == pytest.approx(minutes, rel=0.05)
    assert 1.2 < plan.minutes.high / plan.minutes.mid < 1.7
    assert "the owner's word" in plan.why


def test_her_own_past_counts_for_more_than_the_owners_word() -> None:
    told = replace(STEEL, usual=UsualRise(1.5 * 60.0 * TOOK_MIN, STEEL.working_pressure_gauge_pa))
    minutes = light_up(told, (DONE, DONE, DONE), 10.5 * 3600.0).minutes
    assert minutes.mid == pytest.approx(TOOK_MIN, rel=0.15)
