"""Held at working pressure: the fire is eased and made up in turn, and the belief stays at the gauge."""

# ruff: noqa: E501
from __future__ import annotations

import math

import pytest
from boiler_engines import PSI, STEEL

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
# an hour and more of calls every five minutes, as a fireman holds her
HELD_SHARE = {
    "level": [120] * 24,
    "saw": [115, 110, 115, 120] * 6,
    "eased and made up": [120, 115, 115, 110, 105, 110, 120, 125, 125, 120, 115, 115] * 2,
}


@pytest.mark.parametrize("name", HELD_SHARE)
def test_the_belief_stays_at_the_gauge(name):
    belief = estimate.begin(STEEL, 0.0)
    for at_s, report in RAISED:
        belief = estimate.update(belief, report, at_s)
    outlook = []
    for pounds in HELD_SHARE[name]:
        at_s = belief.at_s + 300.0
        belief = estimate.predict(belief, at_s)
        outlook.append(forecast.pressure(belief).mid / PSI - pounds)
        belief = estimate.update(belief, Report("pressure", pounds, "psi"), at_s)
        assert forecast.pressure(belief).mid == pytest.approx(pounds * PSI, abs=5.5 * PSI)
    # five minutes after a call, before the next one: no worse than one breath of the fire
    assert math.sqrt(sum(off**2 for off in outlook) / len(outlook)) < 11.0
