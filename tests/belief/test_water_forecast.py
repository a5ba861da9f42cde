"""What the glass shows and when it is at its marks (common practice, no source)."""

from __future__ import annotations

from dataclasses import replace

import pytest
from boiler_engines import FULL, PSI, WARMING, with_glass

from assistant.belief import water_forecast
from assistant.boiler import glass
from assistant.boiler.figures import Glass
from assistant.boiler.vessel import boiling_k
from assistant.messages import Report


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


@pytest.mark.parametrize(("level", "shown"), [(0.3, 0.0), (0.95, 1.0)])
def test_out_of_sight_is_empty_unless_the_level_was_near_the_top(
    level: float, shown: float
) -> None:
    rows = [*WARMING[:1], (400.0, Report("water", "out of sight"))]
    belief = with_glass(rows, [(0, level)])
    assert water_forecast.water_middle(belief) == shown
    band = water_forecast.water(belief)
    assert (band.low, band.high) == (shown, shown)


def test_the_middle_alone_is_that_of_the_band() -> None:
    belief = with_glass(WARMING, [(0, 0.5), (42, 0.625)])
    assert water_forecast.water_middle(belief) == pytest.approx(water_forecast.water(belief).mid)
