"""A needle at rest: before the lighting it says nothing, after it only that it does not boil."""

from __future__ import annotations

import pytest
from boiler_engines import COPPER, FULL, STEEL, belief_after

from assistant.belief import estimate, forecast
from assistant.belief.estimate import Belief
from assistant.boiler.figures import Engine
from assistant.messages import Report

LIT_S = 1200.0
REST = Report("pressure", 0.0, "psi")


def lit(engine: Engine, *rows: tuple[float, Report]) -> Belief:
    with_fire = [(LIT_S, Report("fire", "lit")), *rows]
    return belief_after(sorted(with_fire, key=lambda row: row[0]), engine)


@pytest.mark.parametrize("engine", [COPPER, STEEL, FULL], ids=["copper", "steel", "full size"])
def test_before_the_lighting_it_changes_no_forecast(engine: Engine) -> None:
    called = lit(engine, (120.0, REST), (700.0, REST))
    silent = lit(engine)
    for later in (LIT_S + 60.0, LIT_S + 900.0):
        one, other = (estimate.predict(b, later) for b in (called, silent))
        assert estimate.temperature_now_k(one) == estimate.temperature_now_k(other)
        working = engine.working_pressure_gauge_pa
        assert forecast.minutes_to(one, working) == forecast.minutes_to(other, working)


@pytest.mark.parametrize("engine", [COPPER, STEEL, FULL], ids=["copper", "steel", "full size"])
def test_a_minute_after_the_lighting_the_water_is_cold(engine: Engine) -> None:
    belief = lit(engine, (120.0, REST), (LIT_S + 30.0, REST))
    assert estimate.temperature_now_k(belief) < 310.0
