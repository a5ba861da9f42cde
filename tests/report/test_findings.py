"""What a story shows: tests with their gauge, times to a pressure, water out of the tank."""

from __future__ import annotations

from pathlib import Path

import pytest
from report_books import keep, many, reading

from assistant.boiler.scales import PSI_PA
from assistant.messages import ReadingCorrected, Report
from assistant.report.findings import lit_s, litres, made_tests, peak, reached_s, used_in_run
from assistant.report.story import Story, read_story


def story_of(folder: Path, said: list[tuple[float, object]]) -> Story:
    return read_story(keep(folder, said))  # type: ignore[arg-type]


def test_a_test_is_told_with_the_gauge_nearest_to_it(tmp_path: Path) -> None:
    story = story_of(
        tmp_path,
        [
            (10.0, reading("glass", "brisk")),
            (1000.0, reading("pressure", 140.0, "psi")),
            (1020.0, reading("valve", "lifting")),
            (1030.0, reading("pressure", 145.0, "psi")),
            (1100.0, reading("valve", "shut")),
            (1200.0, reading("hand pump", "works")),
        ],
    )
    glass, valve, pump = made_tests(story)
    assert (glass.result, glass.gauge) == ("brisk", None)  # no reading within five minutes
    assert (valve.result, valve.gauge) == ("lifting", Report("pressure", 145.0, "psi"))
    assert valve.gauge_off_s == 10.0
    assert (pump.name, pump.gauge_off_s) == ("feed: hand pump", -170.0)


def test_the_time_to_a_pressure_is_between_the_calls(tmp_path: Path) -> None:
    story = story_of(
        tmp_path,
        [
            (60.0, reading("fire", "lit")),
            (100.0, reading("pressure", 0.0, "psi")),
            (200.0, reading("pressure", 40.0, "psi")),
            (300.0, reading("pressure", 60.0, "psi")),
        ],
    )
    assert lit_s(story) == 60.0
    assert reached_s(story, 20 * PSI_PA) == pytest.approx(150.0)
    assert reached_s(story, 60 * PSI_PA) == pytest.approx(300.0)
    assert reached_s(story, 61 * PSI_PA) is None


def test_a_corrected_reading_counts_for_nothing(tmp_path: Path) -> None:
    wrong, right = Report("pressure", 95.0, "psi"), Report("pressure", 65.0, "psi")
    story = story_of(
        tmp_path,
        [(10.0, reading("pressure", 95.0, "psi")), (20.0, ReadingCorrected(wrong, right))],
    )
    assert peak(story) == right
    assert reached_s(story, 90 * PSI_PA) is None


def test_a_refill_of_the_tank_is_no_water_used(tmp_path: Path) -> None:
    tank = [
        (10.0, reading("tank", 1.0, "tank")),
        (20.0, reading("tank", 0.5, "tank")),
        (30.0, reading("tank", 45.0, "litre")),
        (40.0, reading("tank", 40.0, "litre")),
    ]
    fed = used_in_run(story_of(tmp_path, tank)).fed_m3  # type: ignore[arg-type]
    assert fed is not None
    assert litres(fed) == pytest.approx(22.5 + 5.0)  # of a tank of 45 litres


def test_nothing_called_is_nothing_known(tmp_path: Path) -> None:
    story = story_of(tmp_path, [])
    used = used_in_run(story)
    assert (used.fed_m3, used.water_kg, used.fuel_kg) == (None, None, None)
    assert (peak(story), lit_s(story), reached_s(story, 1.0), made_tests(story)) == (
        None, None, None, (),
    )  # fmt: skip


def test_the_fuel_is_of_a_believable_size(tmp_path: Path) -> None:
    """To 120 psi the metal and 80 litres take about 80 MJ; at 12 MJ/kg into the water, 6 to 7 kg.

    Steam tables: 177 C at 135 psi absolute; 165 K x (82 kg x 4.25 + 420 kg x 0.49) kJ = 91 MJ.
    """
    fuel_kg = used_in_run(story_of(tmp_path, many(40))).fuel_kg  # type: ignore[arg-type]
    assert fuel_kg is not None
    assert 4.0 < fuel_kg < 14.0
