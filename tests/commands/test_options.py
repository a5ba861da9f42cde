"""The options that commands share: the engine with its calibration, pressures, earlier readings."""

from __future__ import annotations

import argparse
import shutil
from pathlib import Path

import numpy as np
import pytest
from kept_output import KeptOutput
from shell import own_engine

from assistant.cli import main
from assistant.commands import options
from assistant.config import paths
from assistant.config.calibration_file import write_calibration
from assistant.config.engine_file import find_engine, load_engine
from assistant.errors import InputWrongError


def engine_options(name: str | None) -> argparse.Namespace:
    return argparse.Namespace(engine=name)


def test_without_an_engine_the_practice_engine_and_a_line_about_it() -> None:
    out = KeptOutput()
    assert options.engine_of(engine_options(None), out).engine.name == "Practice engine"
    assert out.told == ["no --engine given: using the invented practice engine"]


@pytest.mark.parametrize("name", [None, "practice", "copper"])
def test_a_live_engine_is_named_and_not_invented(name: str | None, tmp_path: Path) -> None:
    with pytest.raises(InputWrongError, match="footplate check FILE"):
        options.live_engine_of(engine_options(name), KeptOutput())
    own = own_engine(tmp_path)
    assert options.live_engine_of(engine_options(str(own)), KeptOutput()).path == own


def test_a_calibration_beside_the_file_is_used_and_named(tmp_path: Path) -> None:
    path = Path(shutil.copy(paths.engines_folder() / "practice.yaml", tmp_path / "mine.yaml"))
    points = ((0.0, 60.0), (1.0, 90.0))
    beside = write_calibration(path, load_engine(path).engine, points)
    out = KeptOutput()
    assert options.engine_of(engine_options(str(path)), out).engine.glass.points == points
    assert out.told == [f"glass as measured while filling: {beside}"]


def test_readings_that_teach_nothing_are_refused_by_the_name_of_their_file(tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_text("time,what,value,unit\n00:00:00,water,0.5,glass\n")
    with pytest.raises(InputWrongError, match=str(path)):
        options.past_runs([path], find_engine("practice"))


def test_silence_holds_no_utterance() -> None:
    assert options.utterances(np.zeros(16_000 + 7, np.float32)) == []


@pytest.mark.parametrize(
    "words",
    [
        ["rehearse", "--noise", "nan"], ["rehearse", "--noise", "inf"],
        ["rehearse", "--noise", "1e9"], ["rehearse", "--noise", "loud"],
        ["hear", "a.wav", "--pressure-now", "nan"], ["hear", "a.wav", "--pressure-now", "-1"],
        ["bench", "hear", "--level", "nan"],
    ],
    ids=" ".join,
)  # fmt: skip
def test_a_number_that_is_none_is_refused(
    words: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as left:
        main(words)
    assert left.value.code == 2
    assert "is no number from" in capsys.readouterr().err


@pytest.mark.parametrize("engine", ["", "  "])
def test_an_engine_without_a_name_is_not_the_practice_engine(
    engine: str,
) -> None:
    for find in (options.engine_of, options.live_engine_of):
        with pytest.raises(InputWrongError, match="--engine: it is empty"):
            find(engine_options(engine), KeptOutput())
