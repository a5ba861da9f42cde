"""Held at working pressure, fire eased and made up in turn, the belief stays at the gauge."""

from __future__ import annotations

import math

import pytest
from boiler_engines import PSI, STEEL, belief_after

from assistant.belief import estimate, forecast
from assistant.belief.history import History
from assistant.belief.hold_detection import held_s, held_since, steam_draw_w
from assistant.belief.learning import history_of
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


def history(*rows: tuple[float, Report]) -> History:
    return history_of(STEEL, rows)


LIT = (0.0, Report("fire", "lit"))
ON_THE_GAUGE = (3000.0, Report("pressure", 60, "psi"))


@pytest.mark.parametrize(
    ("rows", "since_s"),
    [
        ((), None),
        (((3600.0, Report("fire", "banked")),), 3600.0),
        (((3600.0, Report("regulator", "open")),), 3600.0),
        (((3600.0, Report("valve", "lifting")), (3700.0, Report("valve", "shut"))), None),
        (((3600.0, Report("damper", "shut")), (3900.0, Report("fire", "drawn"))), 3600.0),
        (((-60.0, Report("damper", "shut")),), None),  # shut before the lighting
        (((600.0, Report("damper", "shut")),), None),  # nothing on the gauge yet
    ],
)
def test_since_when_pressure_is_held(
    rows: tuple[tuple[float, Report], ...], since_s: float | None
) -> None:
    found = history(*sorted([LIT, ON_THE_GAUGE, *rows], key=lambda row: row[0]))
    assert held_since(found) == since_s
    assert held_s(found, 3500.0, 4000.0) == (0.0 if since_s is None else 4000.0 - since_s)


def test_an_open_regulator_draws_heat_until_readings_show_it() -> None:
    opened = [LIT, ON_THE_GAUGE, (3600.0, Report("regulator", "open"))]
    assert steam_draw_w(STEEL, history(*opened), 28e3) > 0.0
    drained = steam_draw_w(STEEL, history(*opened, (3600.0, Report("drains", "open"))), 28e3)
    assert drained > steam_draw_w(STEEL, history(*opened), 28e3)
    shown = [(3700.0 + 60.0 * i, Report("pressure", 60, "psi")) for i in range(2)]
    assert steam_draw_w(STEEL, history(*opened, *shown), 28e3) == 0.0
