"""The JSON record of a forecast."""

from __future__ import annotations

import json
from typing import Any

import pytest
from boiler_engines import COPPER, FULL, PSI, RAISING, STEEL, belief_after

from assistant.belief.summary import forecast_summary
from assistant.boiler.figures import Engine


@pytest.mark.parametrize("engine", [COPPER, STEEL, FULL])
def test_summary_has_the_agreed_shape(engine: Engine) -> None:
    record: Any = forecast_summary(
        belief_after(RAISING[:5], engine), engine.working_pressure_gauge_pa
    )
    assert record["at_s"] == RAISING[4][0]
    assert record["target_psi"] == pytest.approx(engine.working_pressure_gauge_pa / PSI)
    for name in ("pressure_psi", "minutes"):
        assert record[name]["low"] <= record[name]["mid"] <= record[name]["high"]
    assert set(record["water"]) >= {"glass", "trend", "cause", "minutes_to_lower_mark"}
    assert record["why"]


def test_what_will_not_come_is_null_and_says_why() -> None:
    record: Any = forecast_summary(belief_after(RAISING), 200 * PSI)
    assert record["minutes"] is None
    assert "valve" in record["why"]
    assert json.loads(json.dumps(record)) == record
