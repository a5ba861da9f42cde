"""What earlier runs of an engine teach, and what cannot teach."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest
from boiler_engines import PSI, RAISING, STEEL, Rows, belief_after

from assistant.belief import estimate, forecast
from assistant.belief.learning import EarlierRun, past_run
from assistant.messages import Report


def slower(rows: Rows, factor: float) -> EarlierRun:
    """The same run with everything after the lighting taking longer."""
    lit = 300.0
    return tuple((at if at <= lit else lit + factor * (at - lit), r) for at, r in rows)


DONE = (
    *RAISING,
    (3780.0, Report("pressure", 65, "psi")),
    (4080.0, Report("pressure", 85, "psi")),
    (4380.0, Report("pressure", 105, "psi")),
    (4620.0, Report("pressure", 120, "psi")),
)
TOOK_MIN = (4620.0 - 300.0) / 60.0


def after(runs: Sequence[EarlierRun], rows: Rows = RAISING[:2]) -> Any:
    return forecast.minutes_to(belief_after(rows, STEEL, runs), 120 * PSI).band


def test_one_run_moves_the_forecast_towards_it_and_three_more_so() -> None:
    middles = [after(tuple([slower(DONE, 1.6)] * runs)).mid for runs in (0, 1, 3)]
    true = 1.6 * TOOK_MIN
    errors = [abs(mid - true) for mid in middles]
    assert errors[0] > errors[1] > errors[2]
    assert middles[2] == pytest.approx(true, rel=0.1)


def test_runs_narrow_the_interval() -> None:
    none, three = after(()), after(tuple(slower(DONE, f) for f in (0.95, 1.0, 1.05)))
    assert three.high / three.low < 0.9 * none.high / none.low


def test_the_order_of_the_runs_hardly_matters() -> None:
    runs = tuple(slower(DONE, f) for f in (0.8, 1.0, 1.3))
    assert after(runs).mid == pytest.approx(after(runs[::-1]).mid, rel=0.08)


def test_what_is_after_working_pressure_teaches_nothing_wrong() -> None:
    at_work = tuple((4620.0 + 300.0 * i, Report("pressure", 120, "psi")) for i in range(1, 8))
    assert after(((*DONE, *at_work),)).mid == pytest.approx(after((DONE,)).mid, rel=0.02)


def test_a_wrong_engine_file_costs_little_after_three_runs() -> None:
    # heat given 70 % too high, metal 40 % too low
    wrong = replace(STEEL, fire_rate_w=1.7 * 28e3, metal_kg={"steel": 0.6 * 420.0})
    belief = belief_after(RAISING[:2], wrong, (DONE, DONE, DONE))
    minutes = forecast.minutes_to(belief, 120 * PSI).band
    assert minutes.mid == pytest.approx(TOOK_MIN, rel=0.12)


def test_the_number_of_runs_is_told() -> None:
    belief = belief_after(RAISING[:2], STEEL, (DONE, DONE))
    assert belief.shared.runs == 2
    assert "2 earlier runs" in forecast.minutes_to(belief, 120 * PSI).why


@pytest.mark.parametrize(
    ("rows", "word"),
    [
        ((), "lighting"),
        (DONE[2:], "lighting"),
        (DONE[:3], "two pressures"),
    ],
)
def test_runs_that_teach_nothing_are_refused(rows: Rows, word: str) -> None:
    with pytest.raises(ValueError, match=word):
        past_run(rows)


def test_a_run_is_put_in_order() -> None:
    assert past_run(reversed(DONE)) == DONE


def test_past_is_learned_at_the_beginning() -> None:
    assert estimate.begin(STEEL, 0.0, (DONE,)).shared.runs == 1
