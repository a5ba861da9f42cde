"""Measured points of a glass are kept beside the engine file, all or nothing."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from assistant.boiler.glass import calibrated_glass as with_cans
from assistant.cli import main
from assistant.commands.session_build import session_config_of
from assistant.config import paths
from assistant.config.calibration_file import (
    calibrated,
    calibration_path,
    load_calibration,
    write_calibration,
)
from assistant.config.engine_file import find_engine
from assistant.errors import FileWrongError, WorldFailedError
from assistant.journal import reader

PRACTICE = find_engine("practice").engine


@pytest.fixture
def engine_path(tmp_path: Path) -> Path:
    path = tmp_path / "practice.yaml"
    shutil.copy(paths.engines_folder() / "practice.yaml", path)
    return path


def test_cans_measured_while_filling_come_back_and_the_engine_file_is_untouched(
    engine_path: Path,
) -> None:
    before = engine_path.read_bytes()
    glass = with_cans(PRACTICE.glass, ((5.0, 0.25), (12.1, 0.5)), before_litres=70.0)
    path = write_calibration(engine_path, PRACTICE, glass.points)
    assert path == engine_path.with_name("practice.calibration")
    assert calibrated(PRACTICE, engine_path).glass.points == glass.points
    assert (0.25, 75.0) in glass.points
    assert engine_path.read_bytes() == before
    assert sorted(p.name for p in engine_path.parent.iterdir()) == [
        "practice.calibration",
        "practice.yaml",
    ]


def test_without_a_calibration_the_engine_is_as_its_file_says(engine_path: Path) -> None:
    assert calibrated(PRACTICE, engine_path) == PRACTICE


@pytest.mark.parametrize(
    ("points", "reason"),
    [
        (((0.5, 80.0),), "two points or more"),
        (((0.5, 80.0), (0.75, 78.0)), "must rise with the height: 80 and 78"),
        (((0.5, 80.0), (0.5, 84.0)), "must rise with the height"),
        (((0.5, 80.0), (0.75, 180.0)), "the boiler holds 110 litre"),
        (((0.5, 80.0), (1.75, 100.0)), "off the glass"),
        (((0.5, float("nan")), (0.75, 100.0)), "the boiler holds"),
        (((float("inf"), 80.0), (0.75, 100.0)), "off the glass"),
    ],
)
def test_points_that_cannot_be_true_are_not_written(
    engine_path: Path, points: tuple[tuple[float, float], ...], reason: str
) -> None:
    with pytest.raises(FileWrongError, match=reason):
        write_calibration(engine_path, PRACTICE, points)
    assert not calibration_path(engine_path).exists()


def test_of_another_engine(engine_path: Path) -> None:
    path = write_calibration(engine_path, PRACTICE, ((0.0, 60.0), (1.0, 90.0)))
    with pytest.raises(FileWrongError, match=r":2:17: of another engine: 'Practice engine', not"):
        load_calibration(path, find_engine("copper").engine)


def test_more_water_than_the_boiler_holds(engine_path: Path) -> None:
    path = calibration_path(engine_path)
    path.write_text("calibration_of: Practice engine\npoints:\n  0.2: 70 litre\n  0.9: 170 litre\n")
    with pytest.raises(FileWrongError, match=r":4:8: more water than the boiler holds"):
        load_calibration(path, PRACTICE)


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(WorldFailedError, match="cannot be written"):
        write_calibration(tmp_path / "none" / "e.yaml", PRACTICE, ((0.0, 60.0), (1.0, 90.0)))


def test_what_lies_beside_the_engine_file_is_taken_without_being_asked_for(
    engine_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    readings = engine_path.with_name("r.csv")
    readings.write_text(
        "time,what,value,unit\n0:00:00,water,0.5,glass\n0:05:00,fire,lit,\n"
        "0:50:00,pressure,60,psi\n0:51:00,water,0.6,glass\n",
        encoding="utf-8",
    )
    words = ["forecast", "--engine", str(engine_path), "--readings", str(readings), "--json"]
    assert main(words) == 0
    before = capsys.readouterr()
    (low, litres), (high, more) = PRACTICE.glass.points
    doubled = ((low, litres - (more - litres)), (high, more))
    write_calibration(engine_path, PRACTICE, doubled)
    assert main(words) == 0
    after = capsys.readouterr()
    assert "measured while filling" in after.err and "measured while filling" not in before.err
    assert before.out != after.out


@pytest.mark.real  # `run` writes its time of start
def test_a_session_keeps_the_measured_points_and_replays_with_them(
    engine_path: Path, tmp_path: Path
) -> None:
    (low, litres), (high, more) = PRACTICE.glass.points
    points = ((low, litres), (0.5, 0.4 * litres + 0.6 * more), (high, more))
    measured = write_calibration(engine_path, PRACTICE, points)
    script = tmp_path / "s.txt"
    script.write_text("00:00:10\twater half\n00:05:00\tfire lit\n00:20:00\t\n", encoding="utf-8")
    out = tmp_path / "books"
    words = ["run", "--engine", str(engine_path), "--script", str(script), "--out", str(out)]
    assert main([*words, "--json"]) == 0
    (journal,) = out.glob("*.jsonl")
    header = reader.read(journal).header
    assert header is not None
    measured.unlink()
    assert session_config_of(header).engine.glass.points == points
    assert main(["replay", str(journal)]) == 0
