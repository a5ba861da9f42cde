"""Held at working pressure, fire eased and made up in turn, the belief stays at the gauge."""

from __future__ import annotations

import math

import pytest
from boiler_engines import PSI, belief_after

from assistant.belief import estimate, forecast
from assistant.messages import Report

RAISED = (
    (0.0, Report("water", 0.5, "glass")),
    (300.0, Report("fire", "lit")),
    *(
        (2460.0 + 300.0 * i, Report("pressure", p, "psi"))
        for i, p in enumerate((5, 20, 35, 55, 75, 95, 110, 120))
    ),
)
# readings every five minutes for an hour and more, as a fireman holds the pressure
READINGS = {
    "level": [120] * 24,
    "saw": [115, 110, 115, 120] * 6,
    "eased and made up": [120, 115, 115, 110, 105, 110, 120, 125, 125, 120, 115, 115] * 2,
}


@pytest.mark.parametrize("name", READINGS)
def test_the_belief_stays_at_the_gauge(name: str) -> None:
    belief = belief_after(RAISED)
    errors = []
    for pounds in READINGS[name]:
        at_s = belief.at_s + 300.0
        belief = estimate.predict(belief, at_s)
        errors.append(forecast.pressure(belief).mid / PSI - pounds)
        belief = estimate.update(belief, Report("pressure", pounds, "psi"), at_s)
        assert forecast.pressure(belief).mid == pytest.approx(pounds * PSI, abs=5.5 * PSI)
    # five minutes after a reading, before the next one
    assert math.sqrt(sum(off**2 for off in errors) / len(errors)) < 11.0
