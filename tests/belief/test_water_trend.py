"""The water trend and its cause (common practice, no source, unless a line says otherwise)."""

from __future__ import annotations

from boiler_engines import WARMING, with_glass

from assistant.belief import estimate, water_forecast
from assistant.messages import Report


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


def test_litres_a_can_at_a_time_are_not_read_twice() -> None:
    # filled cold to half before the lighting: the filling is no trend of the run
    levels = [(0, 0.1), (1, 0.25), (3, 0.5), (42, 0.625), (53, 0.625), (61, 0.75)]
    trend = water_forecast.water_trend(with_glass(WARMING, levels))
    assert (trend.word, trend.cause) == ("rising", "expansion")
