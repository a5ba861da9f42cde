"""The bench itself, on a few engines: that it judges, and that the forecasts beat two rulers."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.lab.benches.forecast_errors import RULERS, Case, bench, score, straight_lines
from assistant.simulator.steam_up import draw_habits, invented_engine, steam_up


@pytest.fixture(scope="module")
def small():
    return bench(range(3300, 3312), runs=1)


def test_every_question_is_answered(small):
    for cases in small.by_past.values():
        assert len(cases) >= 45
        assert score("", cases).unanswered == 0.0


def test_the_forecasts_beat_the_rulers(small):
    first, learned, *rulers = small.scores()
    assert [ruler.name for ruler in rulers] == [f"line in {name}" for name in RULERS]
    best = min(ruler.median for ruler in rulers)
    assert first.median < 0.9 * best
    assert learned.median < 0.75 * best
    assert first.median < 0.24
    assert learned.median < 0.17


def test_the_interval_is_honest(small):
    for cases in small.by_past.values():
        # 80 % is meant; nine engines scatter
        assert 0.62 <= score("", cases).held <= 0.95


def test_the_table_shows_every_method(small):
    table = small.table()
    assert len(table.splitlines()) == 2 + 2 + len(RULERS)
    assert "3 earlier runs" in table


def test_score_by_hand():
    cases = [Case(10.0, 8.0, 9.0, 12.0), Case(20.0, 21.0, 25.0, 30.0), Case(5.0, None, None, None)]
    got = score("by hand", cases)
    assert (got.cases, got.held) == (3, 0.5)
    assert got.median == pytest.approx(0.175)
    assert got.unanswered == pytest.approx(1 / 3)


def test_rulers_need_their_readings():
    engine = invented_engine(1)
    run = steam_up(engine, 1, 1, draw_habits(1, 1.3))
    assert straight_lines(run.rows[:2], engine) == (None, None, None)


def test_a_steam_up_is_called_as_people_call():
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
