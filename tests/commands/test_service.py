"""`footplate service`: the unit that it writes, accepted by systemd, and what it refuses."""

from __future__ import annotations

import argparse
import shutil
import subprocess
from pathlib import Path

import pytest
from shell import own_engine, run

from assistant.commands import run as run_command
from assistant.commands import service


@pytest.fixture(autouse=True)
def config_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    return tmp_path / "config"


def written(capsys: pytest.CaptureFixture[str], folder: Path, *more: object) -> Path:
    """The unit as it was written for an engine in a folder with an awkward name."""
    awkward = folder / 'a 50% "$HOME" ö'
    awkward.mkdir(exist_ok=True)
    code, out, err = run(
        capsys, "service", "--write", "--engine", own_engine(awkward), "--wake",
        "--people", "Ann, Bob", *more,
    )  # fmt: skip
    assert code == 0, err
    path = service.unit_path()
    assert f"written: {path}" in out
    assert "enable-linger" in out
    return path


def test_systemd_accepts_the_unit(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    analyse = shutil.which("systemd-analyze")
    if analyse is None:
        pytest.skip("systemd-analyze, which judges units, is not on this machine")
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    unit = written(capsys, tmp_path)
    done = subprocess.run(
        [analyse, "--user", "--man=no", "verify", str(unit)],
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stderr.strip()) == (0, "")
    unit.write_text(unit.read_text().replace("Restart=on-failure", "Restart=perhaps"))
    done = subprocess.run(
        [analyse, "--user", "--man=no", "verify", str(unit)],
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert "perhaps" in done.stderr  # it would have told


def test_the_command_of_the_unit_is_one_that_run_takes(tmp_path: Path) -> None:
    parser = argparse.ArgumentParser()
    run_command.add(parser)
    given = argparse.Namespace(
        checklist=["own.yaml"], people="Ann, Bob", microphone="USB", speaker=None, wake=True,
        out=tmp_path / "books",
    )  # fmt: skip
    words = service.run_words(given, tmp_path / "own.yaml")
    taken = parser.parse_args(words[words.index("run") + 1 :])
    assert taken.resume_or_begin and taken.wake and not taken.typed
    assert taken.engine == str(tmp_path / "own.yaml")
    assert Path(taken.checklist[0]).is_absolute()
    assert Path(words[0]).is_absolute()


def test_the_unit_says_what_it_promises(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    lines = written(capsys, tmp_path).read_text(encoding="utf-8").splitlines()
    for wanted in (
        "Type=notify", "Restart=on-failure", f"WatchdogSec={service.WATCHDOG_S}",
        "StartLimitIntervalSec=0", "NoNewPrivileges=yes", "RestrictAddressFamilies=AF_UNIX",
        "WantedBy=default.target",
    ):  # fmt: skip
        assert wanted in lines
    (command,) = [line for line in lines if line.startswith("ExecStart=")]
    assert '50%% \\"$$HOME\\" ö/own.yaml"' in command
    assert any(line.startswith("Environment=FOOTPLATE_HOME=/") for line in lines)
    assert not any("network" in line for line in lines)
    assert not any(line.startswith("RestartPrevent") for line in lines)  # a microphone comes late


def test_it_is_written_anew_but_nobody_elses_file_is(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    unit = written(capsys, tmp_path)
    written(capsys, tmp_path, "--microphone", "other")
    assert "other" in unit.read_text()
    unit.write_text("[Unit]\nDescription=mine\n")
    code, _, err = run(capsys, "service", "--write", "--engine", own_engine(tmp_path))
    assert code == 2
    assert "did not write" in err
    assert "mine" in unit.read_text()


@pytest.mark.parametrize("engine", [[], ["--engine", "practice"]])
def test_no_unit_for_an_engine_that_no_live_run_takes(
    capsys: pytest.CaptureFixture[str], engine: list[str], config_home: Path
) -> None:
    code, out, _ = run(capsys, "service", "--print", *engine)
    assert (code, out) == (2, "")
    code, out, _ = run(capsys, "service", "--write", *engine)
    assert (code, out) == (2, "")
    assert not config_home.exists()


def test_printing_writes_nothing(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, config_home: Path
) -> None:
    code, out, _ = run(capsys, "service", "--print", "--engine", own_engine(tmp_path))
    assert code == 0
    assert out.startswith(service.MADE_BY)
    assert out.endswith("WantedBy=default.target\n")
    assert not config_home.exists()
