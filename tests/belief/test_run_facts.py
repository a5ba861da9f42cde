"""Time alone costs nothing: what follows from the reports is worked out once, and comes alike."""

from __future__ import annotations

import pytest
from boiler_engines import PSI, RAISING, STEEL, Rows, belief_after

from assistant.belief import estimate, forecast
from assistant.belief.estimate import Belief
from assistant.belief.summary import forecast_summary
from assistant.messages import Report
from assistant.simulator.steam_up import draw_habits, invented_engine, steam_up

BEGUN = RAISING[:-1]


def answers(belief: Belief) -> dict[str, object]:
    return forecast_summary(belief, 120 * PSI)


def test_a_tick_fits_nothing_anew() -> None:
    belief = belief_after(BEGUN)
    later = estimate.predict(belief, belief.at_s + 120.0)
    assert later.posterior is belief.posterior
    assert forecast.pressure(later).mid > forecast.pressure(belief).mid


def test_a_glass_called_changes_nothing_of_the_rise() -> None:
    belief = belief_after(BEGUN)
    after = estimate.update(belief, Report("water", 0.625, "glass"), belief.at_s + 30.0)
    assert after.posterior is belief.posterior


def test_asked_often_or_once_the_answer_is_the_same() -> None:
    asked = estimate.begin(STEEL, 0.0)
    for at_s, report in BEGUN:
        for tick_s in (30.0, 60.0):
            forecast.pressure(estimate.predict(asked, asked.at_s + tick_s))
        asked = estimate.update(asked, report, at_s)
        answers(asked)
    assert answers(asked) == answers(belief_after(BEGUN))


@pytest.mark.parametrize("feed", [(), ((3200.0, Report("feed", "on")),)])
def test_equal_reports_make_equal_beliefs(feed: Rows) -> None:
    one, other = (estimate.predict(belief_after((*BEGUN, *feed)), 3600.0) for _ in "ab")
    assert one.history == other.history
    assert answers(one) == answers(other)


def test_a_feed_that_is_on_goes_on_costing_pressure() -> None:
    fed = belief_after((*BEGUN, (3130.0, Report("feed", "on"))))
    first, later = (estimate.predict(fed, at_s) for at_s in (3140.0, 3740.0))
    assert later.grid.heat_j.sum() > first.grid.heat_j.sum()


def test_a_long_day_asks_no_more_of_a_reading_than_a_short_one() -> None:
    rows = list(BEGUN)
    for i in range(120):  # ten hours on the dial's working pressure, a call every five minutes
        at_s = 3600.0 + 300.0 * i
        rows.append((at_s, Report("pressure", 120 - 5 * (i % 3 == 0), "psi")))
        rows.append((at_s + 20.0, Report("water", 0.625, "glass")))
    belief = belief_after(rows)
    assert len(belief.history.pressures) > 120
    assert len(belief.segmented_run.bounds) < 40
    assert len(belief.water.levels) <= 60
    assert forecast.pressure(belief).mid == pytest.approx(120 * PSI, abs=5 * PSI)  # the last call


@pytest.mark.parametrize("seed", range(6))
def test_time_alone_only_brings_a_pressure_nearer_where_it_is_said_so(seed: int) -> None:
    engine = invented_engine(seed)
    belief = estimate.begin(engine, 0.0)
    run = steam_up(engine, seed, seed, draw_habits(seed, (1.0, 1.4, 2.2)[seed % 3]))
    looked = 0
    for at_s, report in run.rows:
        belief = estimate.update(belief, report, at_s)
        if not forecast.only_nearer(belief):
            continue
        for part in (0.2, 0.5, 0.9):
            target_pa = part * engine.working_pressure_gauge_pa
            later = (estimate.predict(belief, at_s + s) for s in (0.0, 1.0, 40.0, 300.0, 2000.0))
            bands = [forecast.minutes_to(one, target_pa).band for one in later]
            minutes = [band.mid for band in bands if band is not None]
            assert len(minutes) in (0, len(bands))
            assert minutes == sorted(minutes, reverse=True)
            looked += len(minutes)
    assert looked > 20
