"""Cans measured into a cold boiler: kept beside the engine file, used from then on, or refused."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from assistant.cli import main
from assistant.config import paths
from assistant.config.calibration_file import load_calibration


@pytest.fixture
def mine(tmp_path: Path) -> Path:
    path = tmp_path / "mine.yaml"
    shutil.copy(paths.engines_folder() / "practice.yaml", path)
    return path


def test_measured_cans_are_kept_and_used(mine: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = mine.read_bytes()
    cans = ["5 litre=1/4", "12 litre=1/2", "2 imperial_gallon=0.32"]
    assert main(["calibrate", "--engine", str(mine), "--before", "70 litre", *cans[:2]]) == 0
    assert mine.read_bytes() == before
    kept = load_calibration(mine.with_suffix(".calibration")).points
    assert (0.25, 75.0) in kept and (0.5, 82.0) in kept
    # a later can joins those measured earlier; 2 imperial gallons are 9.09218 litres exactly
    # (Weights and Measures Act 1985, 4.54609 litres to the gallon)
    assert main(["calibrate", "--engine", str(mine), "--before", "70 litre", cans[2]]) == 0
    kept = dict(load_calibration(mine.with_suffix(".calibration")).points)
    assert kept[0.32] == pytest.approx(79.09218)
    assert kept[0.5] == 82.0
    assert "glass as measured" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("cans", "said"),
    [
        (["5 litre"], "LITRES=HEIGHT"),
        (["5 litre=half"], "no height"),
        (["5 litre=3/2"], "from 0 to 1"),
        (["5=1/4"], "no unit"),
        (["5 gallon=1/4"], "unclear"),
        (["nan litre=1/4"], "nan"),
        (["5 litre=1/2", "10 litre=1/4"], "rise together"),
        (["150 litre=1"], "holds"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_written(
    mine: Path, capsys: pytest.CaptureFixture[str], cans: list[str], said: str
) -> None:
    assert main(["calibrate", "--engine", str(mine), "--before", "70 litre", *cans]) == 2
    assert said in capsys.readouterr().err
    assert not mine.with_suffix(".calibration").exists()


def test_an_engine_that_ships_is_left_as_it_is(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["calibrate", "--engine", "practice", "5 litre=1/4"]) == 2
    assert "copy it" in capsys.readouterr().err
