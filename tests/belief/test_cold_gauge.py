"""A needle at rest: before the match it says nothing, after it only that it does not boil."""

from __future__ import annotations

import pytest
from boiler_engines import COPPER, FULL, STEEL

from assistant.belief import estimate, forecast
from assistant.messages import Report

LIT_S = 1200.0
REST = Report("pressure", 0.0, "psi")


def lit(engine, *rows):
    belief = estimate.begin(engine, 0.0)
    for at_s, report in sorted([(LIT_S, Report("fire", "lit")), *rows], key=lambda row: row[0]):
        belief = estimate.update(belief, report, at_s)
    return belief


@pytest.mark.parametrize("engine", [COPPER, STEEL, FULL], ids=["copper", "steel", "full size"])
def test_before_the_match_it_changes_no_forecast(engine) -> None:
    called = lit(engine, (120.0, REST), (700.0, REST))
    silent = lit(engine)
    for later in (LIT_S + 60.0, LIT_S + 900.0):
        one, other = (estimate.predict(b, later) for b in (called, silent))
        assert estimate.temperature_now_k(one) == estimate.temperature_now_k(other)
        working = engine.working_pressure_gauge_pa
        assert forecast.minutes_to(one, working) == forecast.minutes_to(other, working)


@pytest.mark.parametrize("engine", [COPPER, STEEL, FULL], ids=["copper", "steel", "full size"])
def test_a_minute_after_the_match_the_water_is_cold_and_stays_so_when_it_is_called(engine) -> None:
    belief = lit(engine, (120.0, REST), (LIT_S + 30.0, REST))
    assert estimate.temperature_now_k(belief) < 310.0
