"""Coal and water as they were counted, on the page: total, doubt, and no row where none was."""

from __future__ import annotations

from pathlib import Path

from report_books import ENGINE, keep, many, reading

from assistant.messages import COAL_PUT_ON, WATER_PUT_IN, Effect, ReadingCorrected, Report
from assistant.report.log_tables import water_and_fuel
from assistant.report.story import read_story

SIZES = "counts: {bucket: 8 kg, water_bucket: 10 litre}\n"
COUNTED: list[tuple[float, Effect]] = [
    (700.0, reading(COAL_PUT_ON, 2.0, "bucket")),
    (800.0, reading(COAL_PUT_ON, 3.0, "bucket")),
    (900.0, reading(WATER_PUT_IN, 1.0, "bucket")),
    (950.0, reading(WATER_PUT_IN, 5.0, "litre")),
    (980.0, reading(COAL_PUT_ON, 9.0, "bucket")),
    (990.0, ReadingCorrected(Report(COAL_PUT_ON, 9.0, "bucket"), None)),
]


def rows(folder: Path, effects: list[tuple[float, Effect]], engine: str) -> dict[str, str]:
    table = water_and_fuel(read_story(keep(folder, effects, engine=engine)))
    return {str(row.cells[0]): str(row.cells[1]) for row in table.rows}


def test_the_total_stands_with_its_doubt(tmp_path: Path) -> None:
    told = rows(tmp_path, [*many(6), *COUNTED], ENGINE + SIZES)
    coal, water = told["coal put on, as counted"], told["water put in, as counted"]
    assert coal.startswith("5 buckets: about 40 kg (33 to 47,")
    assert water.startswith("1 bucket, 5 litres: about 15 litres (12 to 18,")


def test_without_sizes_the_counts_stand_alone(tmp_path: Path) -> None:
    told = rows(tmp_path, [*many(6), *COUNTED], ENGINE)
    assert told["coal put on, as counted"].startswith("5 buckets; the engine file does not tell")


def test_where_nothing_was_counted_there_is_no_row(tmp_path: Path) -> None:
    assert not [name for name in rows(tmp_path, many(6), ENGINE + SIZES) if "counted" in name]
