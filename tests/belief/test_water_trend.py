"""The water trend and its cause (common practice, no source, unless a line says otherwise)."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest
from boiler_engines import FULL, PSI, belief_after

from assistant.belief import estimate, water_forecast
from assistant.belief.estimate import Belief
from assistant.boiler import glass
from assistant.boiler.figures import Glass
from assistant.boiler.vessel import boiling_k
from assistant.messages import Report

WARMING = [(300.0, Report("fire", "lit"))] + [
    (60.0 * minute, Report("pressure", pounds, "psi"))
    for minute, pounds in ((42, 5), (48, 20), (53, 40), (57, 60), (61, 80))
]


def with_glass(
    rows: Iterable[tuple[float, Report]], levels: Iterable[tuple[float, float]]
) -> Belief:
    glasses = [(60.0 * minute, Report("water", level, "glass")) for minute, level in levels]
    return belief_after(sorted([*rows, *glasses], key=lambda row: row[0]))


def test_rising_by_itself_is_expansion() -> None:
    belief = with_glass(WARMING, [(0, 0.5), (42, 0.625), (53, 0.625), (61, 0.75)])
    trend = water_forecast.water_trend(belief)
    assert (trend.word, trend.cause) == ("rising", "expansion")


def test_a_flat_glass_while_warming_is_a_loss() -> None:
    belief = with_glass(WARMING, [(0, 0.5), (42, 0.5), (53, 0.5), (61, 0.5)])
    trend = water_forecast.water_trend(belief)
    assert trend.word in ("steady", "falling")
    assert trend.cause == "loss"


def test_feed_that_arrives_is_feed() -> None:
    rows = [*WARMING, (3700.0, Report("feed", "on")), (4400.0, Report("pressure", 70, "psi"))]
    levels = [(0, 0.5), (42, 0.625), (61, 0.75), (67, 1.0), (73, 1.0)]
    trend = water_forecast.water_trend(with_glass(rows, levels))
    assert (trend.word, trend.cause) == ("rising", "feed")


def test_an_engine_at_work_uses_water() -> None:
    rows = [*WARMING, (3700.0, Report("regulator", "open"))] + [
        (3700.0 + 300 * i, Report("pressure", 80, "psi")) for i in range(1, 6)
    ]
    levels = [(0, 0.5), (42, 0.625), (61, 0.75), (70, 0.75), (78, 0.625), (86, 0.5)]
    trend = water_forecast.water_trend(with_glass(rows, levels))
    assert (trend.word, trend.cause) == ("falling", "use")


def test_a_glass_that_falls_with_everything_shut_is_a_loss() -> None:
    rows = [*WARMING, (4200.0, Report("pressure", 90, "psi"))]
    levels = [(0, 0.5), (42, 0.625), (53, 0.5), (61, 0.375), (70, 0.25)]
    belief = with_glass(rows, levels)
    trend = water_forecast.water_trend(belief)
    assert (trend.word, trend.cause) == ("falling", "loss")
    assert 0.0 <= water_forecast.minutes_to_lower_mark(belief).band.mid < 30.0


def test_too_little_to_tell() -> None:
    assert water_forecast.water_trend(with_glass(WARMING, [])).word == "unknown"
    assert water_forecast.water_trend(with_glass(WARMING, [(0, 0.5)])).word == "unknown"
    stale = estimate.predict(with_glass(WARMING, [(0, 0.5), (10, 0.5)]), 3 * 3600.0)
    assert water_forecast.water_trend(stale).word == "unknown"


def test_no_water_in_sight() -> None:
    rows = [*WARMING, (3700.0, Report("water", "out of sight"))]
    belief = with_glass(rows, [(0, 0.5), (42, 0.375), (53, 0.25)])
    assert water_forecast.water_trend(belief).word == "unknown"
    assert water_forecast.water(belief).high == 0.0
    assert water_forecast.minutes_to_lower_mark(belief).band.mid == 0.0


def test_half_a_glass_cold_is_near_the_top_at_120_pounds() -> None:
    # a glass that spans a sixth or less of the water (common practice, no source)
    narrow = Glass(0.25, 0.25, 0.85, 0.5, ((0.0, 560.0), (1.0, 560.0 * 7 / 6)))
    engine = replace(FULL, glass=narrow)
    kg = glass.water_shown_kg(engine, 0.5, 285.15)
    hot = boiling_k(120 * PSI, 101_325.0)
    assert 0.9 < glass.shown_for(engine, kg, hot) < 1.2  # at the top or just past it
    wide = replace(FULL, glass=Glass(0.25, 0.25, 0.85, 0.5, ((0.0, 500.0), (1.0, 800.0))))
    assert glass.shown_for(wide, glass.water_shown_kg(wide, 0.5, 285.15), hot) < 0.75


@pytest.mark.parametrize("outlier", [0.0, 1.0])
def test_one_outlier_of_the_glass_costs_little(outlier: float) -> None:
    levels = [(0, 0.5), (42, 0.625), (48, 0.625), (53, 0.625), (57, 0.75), (60, outlier)]
    belief = with_glass(WARMING, levels)
    assert water_forecast.water(belief).mid == pytest.approx(0.72, abs=0.15)


def test_litres_a_can_at_a_time_are_not_read_twice() -> None:
    # filled cold to half before the lighting: the filling is no trend of the run
    levels = [(0, 0.1), (1, 0.25), (3, 0.5), (42, 0.625), (53, 0.625), (61, 0.75)]
    trend = water_forecast.water_trend(with_glass(WARMING, levels))
    assert (trend.word, trend.cause) == ("rising", "expansion")


def test_the_upper_mark_by_feed() -> None:
    rows = [*WARMING, (3660.0, Report("feed", "on"))]
    belief = with_glass(rows, [(0, 0.375), (42, 0.5), (61, 0.5)])
    band = water_forecast.minutes_to_upper_mark(belief).band
    # 1.6 litre a minute, 28 litre in the glass, a third of it to go: six minutes or a little more
    assert 4.0 < band.mid < 11.0


def test_the_upper_mark_by_expansion_or_not_at_all() -> None:
    high = with_glass(WARMING, [(0, 0.6), (42, 0.75), (61, 0.8)])
    assert water_forecast.minutes_to_upper_mark(high).band is not None
    low = with_glass(WARMING, [(0, 0.25), (42, 0.375), (61, 0.5)])
    assert water_forecast.minutes_to_upper_mark(low).band is None
    assert water_forecast.minutes_to_lower_mark(low).band is None
