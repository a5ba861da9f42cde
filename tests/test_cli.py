"""The command line as a user meets it: help, exit codes, one clear line for any trouble."""

from __future__ import annotations

from pathlib import Path

import pytest
from shell import run

from assistant.cli import COMMANDS


@pytest.fixture(autouse=True)
def _own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FOOTPLATE_HOME", str(tmp_path / "home"))


def test_help_names_every_verb_and_the_caution(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "--help")
    assert code == 0
    assert all(command in out for command in COMMANDS)
    assert "never replaces looking at the gauges" in out


@pytest.mark.parametrize("command", COMMANDS)
def test_every_verb_has_help(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, command, "--help")
    assert code == 0
    assert "usage: footplate" in out


def test_the_readme_describes_every_verb() -> None:
    readme = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")
    assert [command for command in COMMANDS if f"`{command}`" not in readme] == []


@pytest.mark.real  # a run reads its time of start
@pytest.mark.parametrize(
    ("words", "code", "told"),
    [
        (["run", "--engine", "practise", "--typed"], 2, "did you mean 'practice'"),
        (["forecast", "--engine", "practice", "--readings", "nowhere.csv"], 2, "nowhere.csv"),
        (["verify", "nowhere.jsonl"], 2, "nowhere.jsonl"),
        (["check", "nowhere.yaml"], 2, "nowhere.yaml"),
        (["plan", "25:99"], 2, "25:99"),
        (["run", "--script", "nowhere.txt"], 2, "nowhere.txt"),
        (["rehearse", "--silent", "--fault", "dragon"], 2, "dragon"),
        (["run", "--resume", "--typed"], 2, "no unfinished journal"),
        (["bogus"], 2, "bogus"),
    ],
)
def test_trouble_is_a_clear_line_and_the_right_code(
    words: list[str], code: int, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    got, out, err = run(capsys, *words)
    assert got == code
    assert told in err + out
    assert "Traceback" not in err + out


def test_what_ships_is_right(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(capsys, "check")[0] == 0


def test_a_bug_is_one_line_and_its_own_exit_code(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(_: object, __: object) -> int:
        raise ZeroDivisionError("invented")

    monkeypatch.setattr("assistant.commands.phrases.run", broken)
    code, out, err = run(capsys, "phrases")
    assert (code, out) == (4, "")
    assert err == (
        "footplate: internal error: ZeroDivisionError: invented"
        " (run again with --debug for the trace)\n"
    )


@pytest.mark.real  # looks for a microphone
def test_without_a_command_there_are_suggestions(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys)
    assert code == 0
    assert "footplate rehearse --speed real" in out
    assert "footplate --help" in out
