"""Glass, expansion and barrel against densities of 1919 and published properties."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from boiler_engines import STEEL

from assistant.boiler import glass
from assistant.boiler.figures import Glass
from assistant.boiler.scales import PSI_PA
from assistant.boiler.steam import liquid, saturated
from assistant.boiler.vessel import Contents, Vessel, boiling_k, split

ATMOSPHERE = 101_325.0
TEN_C = 283.15
SMALL = Glass(0.16, 0.25, 0.85, 0.5, ((0.0, 68.0), (0.5, 80.0), (1.0, 96.0)))


def hot(pounds: float) -> float:
    return boiling_k(pounds * PSI_PA, ATMOSPHERE)


def barrel_liquid_m3(diameter_m: float, length_m: float, depth_m: float) -> float:
    """Liquid in a level round barrel [m3] filled to a depth: area of a circle's segment."""
    radius = diameter_m / 2.0
    area = radius**2 * math.acos((radius - depth_m) / radius)
    area -= (radius - depth_m) * math.sqrt(2.0 * radius * depth_m - depth_m**2)
    return area * length_m


def barrel_depth_m(diameter_m: float, length_m: float, liquid_m3: float) -> float:
    """The inverse, by bisection."""
    low, high = 0.0, diameter_m
    for _ in range(60):
        middle = (low + high) / 2.0
        below = barrel_liquid_m3(diameter_m, length_m, middle) < liquid_m3
        low, high = (middle, high) if below else (low, middle)
    return low


@pytest.mark.parametrize(("pounds", "ratio"), [(120, 1.1226), (150, 1.1346)])
def test_water_grows_on_the_way_to_pressure(pounds: float, ratio: float) -> None:
    # computed from published properties by separate code
    grown = saturated(hot(pounds)).vf / liquid(TEN_C, ATMOSPHERE).v
    assert grown == pytest.approx(ratio, rel=1e-3)


def test_growth_by_the_densities_of_1919() -> None:
    # Babcock & Wilcox 1919, table 22: 62.42 lb/ft3 at 50 F, 56.30 at 330, 55.94 at 340; to 337.9 F
    at_hundred_pounds = 56.30 + (55.94 - 56.30) * 7.9 / 10.0
    grown = saturated(hot(100)).vf / liquid(TEN_C, ATMOSPHERE).v
    assert grown == pytest.approx(62.42 / at_hundred_pounds, rel=1e-3)


@pytest.mark.parametrize(
    ("diameter", "length", "full", "pounds", "rise_mm", "within"),
    [
        (0.3, 0.6, 0.70, 60, 18.4, 0.2),
        (0.3, 0.6, 0.70, 120, 24.5, 0.2),
        (0.3, 0.6, 0.70, 150, 27.0, 0.2),
        (0.8, 2.0, 0.72, 120, 69.5, 0.3),
        (0.8, 2.0, 0.72, 150, 77.0, 0.3),
    ],
)
def test_level_rises_in_a_closed_barrel(
    diameter: float, length: float, full: float, pounds: float, rise_mm: float, within: float
) -> None:
    # computed from published properties by separate code; full: depth over diameter
    volume = math.pi / 4.0 * diameter**2 * length
    row, barrel = saturated(TEN_C), Vessel(volume, 0.0)
    cold_m3 = barrel_liquid_m3(diameter, length, full * diameter)
    kg = cold_m3 / row.vf + (volume - cold_m3) / row.vg
    cold, warm = (
        barrel_depth_m(diameter, length, split(barrel, Contents(kg, k)).liquid_m3)
        for k in (TEN_C, hot(pounds))
    )
    assert 1000.0 * (warm - cold) == pytest.approx(rise_mm, abs=within)


@pytest.mark.parametrize(
    ("pounds", "column_c", "ratio"),
    [(120, 20, 0.891), (120, 60, 0.905), (120, 100, 0.929), (60, 60, 0.930), (150, 20, 0.882)],
)
def test_the_glass_reads_low(pounds: float, column_c: float, ratio: float) -> None:
    # computed from published properties by separate code
    assert glass.shown_ratio(hot(pounds), column_c + 273.15) == pytest.approx(ratio, abs=1.5e-3)


def test_a_cold_boiler_shows_its_level() -> None:
    assert glass.height_shown(0.4, TEN_C) == pytest.approx(0.4, rel=0.02)
    assert glass.true_height(glass.height_shown(0.4, hot(100)), hot(100)) == pytest.approx(0.4)


def test_litres_and_heights_are_each_others_inverse() -> None:
    for height in (-0.1, 0.0, 0.2, 0.5, 0.77, 1.0, 1.1):
        assert glass.level_height(SMALL, glass.liquid_volume_m3(SMALL, height)) == pytest.approx(
            height
        )
    assert glass.liquid_volume_m3(SMALL, 0.25) == pytest.approx(0.074)


def test_nose_up_raises_the_level_at_the_firebox() -> None:
    # geometry: a barrel of 0.9 m tipped by one in twenty about its middle
    slope = math.atan(1 / 20)
    assert glass.level_by_slope_m(0.9, slope) == pytest.approx(0.0225)
    assert glass.level_by_slope_m(0.9, -slope) == pytest.approx(-0.0225)


def test_cans_while_filling_measure_the_glass() -> None:
    # five litres in, glass one quarter; ten litres in, three quarters
    old = Glass(0.16, 0.25, 0.85, 0.5, ((0.0, 60.0), (1.0, 80.0)))
    new = glass.calibrated_glass(old, ((5.0, 0.25), (15.0, 0.75)), before_litres=58.0)
    assert new.points == ((0.0, 60.0), (0.25, 63.0), (0.75, 73.0), (1.0, 80.0))
    assert glass.liquid_volume_m3(new, 0.5) == pytest.approx(0.068)
    assert old.points == ((0.0, 60.0), (1.0, 80.0))


def test_a_can_near_an_old_point_takes_its_place() -> None:
    old = Glass(0.16, 0.25, 0.85, 0.5, ((0.0, 60.0), (0.5, 70.0), (1.0, 80.0)))
    new = glass.calibrated_glass(old, ((0.0, 0.25), (5.5, 0.52)))
    assert new.points == ((0.0, 60.0), (0.25, 65.0), (0.52, 70.5), (1.0, 80.0))


def test_an_engine_on_the_level_has_no_offset_and_one_nose_up_has() -> None:
    # geometry: 0.45 m from the middle to the glass, two degrees, of 160 mm visible
    assert glass.slope_offset(STEEL) == 0.0
    offset = glass.slope_offset(replace(STEEL, nose_up_rad=math.radians(2.0)))
    assert offset == pytest.approx(0.45 * math.tan(math.radians(2.0)) / 0.16)


def test_cans_that_do_not_rise_are_refused() -> None:
    with pytest.raises(ValueError, match="rise together"):
        glass.calibrated_glass(SMALL, ((5.0, 0.6), (2.0, 0.75)), before_litres=70.0)
    assert glass.calibrated_glass(SMALL, ()) == SMALL
