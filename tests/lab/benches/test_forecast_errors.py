"""The bench on a few engines: it scores, and the forecasts beat the straight lines."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.lab.benches.forecast_errors import (
    BASELINES,
    ForecastBench,
    ForecastCase,
    measure_forecasts,
    score_cases,
    straight_lines,
)
from assistant.simulator.steam_up import draw_habits, invented_engine, steam_up


@pytest.fixture(scope="module")
def small() -> ForecastBench:
    return measure_forecasts(range(3300, 3312), runs=1)


def test_every_question_is_answered(small: ForecastBench) -> None:
    for cases in small.by_past.values():
        assert len(cases) >= 45
        assert score_cases("", cases).unanswered == 0.0


def test_the_forecasts_beat_the_baselines(small: ForecastBench) -> None:
    first, learned, *baselines = small.scores()
    assert [baseline.name for baseline in baselines] == [f"line in {name}" for name in BASELINES]
    best = min(baseline.median for baseline in baselines)
    assert first.median < 0.9 * best
    assert learned.median < 0.75 * best
    assert first.median < 0.24
    assert learned.median < 0.17


def test_the_interval_is_honest(small: ForecastBench) -> None:
    for cases in small.by_past.values():
        # 80 % is meant; nine engines scatter
        held = score_cases("", cases).held
        assert held is not None and 0.62 <= held <= 0.95


def test_the_table_shows_every_method(small: ForecastBench) -> None:
    lines = list(small.lines())
    assert len(lines) == 2 + 2 + len(BASELINES)
    assert any("3 earlier runs" in line for line in lines)


def test_score_by_hand() -> None:
    cases = [
        ForecastCase(10.0, 8.0, 9.0, 12.0),
        ForecastCase(20.0, 21.0, 25.0, 30.0),
        ForecastCase(5.0, None, None, None),
    ]
    got = score_cases("by hand", cases)
    assert (got.cases, got.held) == (3, 0.5)
    assert got.median == pytest.approx(0.175)
    assert got.unanswered == pytest.approx(1 / 3)


def test_baselines_need_their_readings() -> None:
    engine = invented_engine(1)
    run = steam_up(engine, 1, 1, draw_habits(1, 1.3))
    assert straight_lines(run.rows[:2], engine) == (None, None, None)


def test_a_steam_up_is_called_as_people_call() -> None:
    engine = invented_engine(4)
    of = draw_habits(4, 1.3)
    run = steam_up(engine, 4, 1, of)
    assert run.reached_s is not None
    calls = [(at, r) for at, r in run.rows if r.what == "pressure"]
    assert all(r.value % of.step_psi == pytest.approx(0.0) for _, r in calls)
    gaps = np.diff([at for at, r in calls if r.value > 0.0]) / 60.0
    assert 2.0 < np.median(gaps) < 10.0
    glasses = [r.value for _, r in run.rows if r.what == "water"]
    assert all((8 * level) == round(8 * level) for level in glasses)
    assert run.rows == steam_up(engine, 4, 1, of).rows
