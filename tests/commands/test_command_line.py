"""The command line as a user meets it: exit codes, one clear line, the shapes others rely on."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from assistant.cli import VERBS, main

SCRIPT = """\
00:00:05\tregulator shut
00:00:12\tgear is out
00:00:30\tpressure zero
00:00:40\thello there
00:01:00\twater half
00:06:00\t
"""


@pytest.fixture(autouse=True)
def _own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FOOTPLATE_HOME", str(tmp_path / "home"))


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    try:
        code = main(list(words))
    except SystemExit as left:  # argparse leaves this way
        code = int(left.code or 0)
    out, err = capsys.readouterr()
    return code, out, err


def records(out: str) -> list[dict[str, object]]:
    return [json.loads(line) for line in out.splitlines()]


def scripted(capsys: pytest.CaptureFixture[str], tmp_path: Path, text: str = SCRIPT) -> Path:
    file = tmp_path / "script.txt"
    file.write_text(text, encoding="utf-8")
    code, _, err = run(
        capsys, "run", "--script", str(file), "--engine", "practice", "--json",
        "--out", str(tmp_path / "books"),
    )  # fmt: skip
    assert code == 0, err
    (journal,) = (tmp_path / "books").glob("*.jsonl")
    return journal


def test_help_names_every_verb_and_the_caution(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, "--help")
    assert code == 0
    assert all(verb in out for verb in VERBS)
    assert "never replaces looking at the gauges" in out


@pytest.mark.parametrize("verb", VERBS)
def test_every_verb_has_help(verb: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = run(capsys, verb, "--help")
    assert code == 0
    assert "usage: footplate" in out


def test_the_readme_describes_every_verb() -> None:
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    assert [verb for verb in VERBS if f"`{verb}`" not in readme] == []


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


def test_a_script_tells_everything_in_order(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    file = tmp_path / "script.txt"
    file.write_text(SCRIPT, encoding="utf-8")
    code, out, _ = run(
        capsys, "run", "--script", str(file), "--json", "--out", str(tmp_path / "books")
    )
    assert code == 0
    told = records(out)
    assert all({"at_s", "did"} <= set(record) for record in told)
    times = [record["at_s"] for record in told]
    assert times == sorted(times)
    readings = [r for r in told if r["did"] == "reading"]
    assert {"reading": "pressure", "value": 0.0, "unit": "psi", "state": "accepted"}.items() <= (
        next(r for r in readings if r["reading"] == "pressure").items()
    )
    steps = [(r["step"], r["state"]) for r in told if r["did"] == "step"]
    assert ("regulator shut", "asked") in steps
    assert ("regulator shut", "done") in steps
    assert {r["state"] for r in readings} <= {"accepted", "refused", "corrected"}


def test_a_wrong_script_tells_all_its_lines_at_once(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    file = tmp_path / "script.txt"
    file.write_text("00:00:10\tready\nsoon\tready\n00:00:05\tready\n", encoding="utf-8")
    code, _, err = run(capsys, "run", "--script", str(file))
    assert code == 2
    assert f"{file}:2:1" in err
    assert f"{file}:3:1" in err


def test_a_journal_is_whole_replays_and_shows_a_change(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    journal = scripted(capsys, tmp_path)
    assert run(capsys, "verify", str(journal))[0] == 0
    code, out, _ = run(capsys, "replay", str(journal), "--json")
    assert code == 0
    assert records(out)[0]["same"] is True
    raw = journal.read_bytes()
    journal.write_bytes(raw.replace(b'"value":0.5', b'"value":0.7', 1))
    assert run(capsys, "verify", str(journal))[0] == 1


def test_a_journal_that_was_cut_is_told_and_gone_on_with(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    journal = scripted(capsys, tmp_path)
    lines = journal.read_bytes().splitlines(keepends=True)
    ended = next(i for i, line in enumerate(lines) if b'"is":"StopAsked"' in line)
    journal.write_bytes(b"".join(lines[:ended]) + lines[ended][:20])
    code, _, err = run(capsys, "verify", str(journal))
    assert code == 1
    assert "cut" in err
    done = footplate(
        "run", "--resume", "--typed", "--mute", "--engine", "practice",
        "--out", str(journal.parent), stdin="where are we\n",
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert "Where is the water?" in done.stdout
    assert run(capsys, "verify", str(journal))[0] == 0
    assert run(capsys, "replay", str(journal))[0] == 0


def footplate(*words: str, stdin: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "assistant.cli", *words],
        input=stdin, capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip


def test_typed_lines_give_something_sensible_for_every_nonsense(tmp_path: Path) -> None:
    nonsense = [
        "help",
        "",
        "  ",
        "pressure",
        "75 75 75",
        "water the plants",
        "\x07\x1b[2J",
        "ü" * 900,
    ]
    done = footplate(
        "run", "--typed", "--mute", "--engine", "copper", "--out", str(tmp_path),
        stdin="\n".join([*nonsense, "end session", "correct"]) + "\n",
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert "Traceback" not in done.stderr
    assert done.stdout.count("You can say:") >= 5


def test_ctrl_c_ends_with_the_journal_whole(tmp_path: Path) -> None:
    process = subprocess.Popen(
        [sys.executable, "-m", "assistant.cli", "run", "--typed", "--mute", "--out", str(tmp_path)],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    )  # fmt: skip
    assert process.stdout is not None
    for line in process.stdout:
        if "Regulator" in line:
            break
    time.sleep(0.2)
    process.send_signal(signal.SIGINT)
    _, err = process.communicate(timeout=20)
    assert process.returncode == 0
    assert "Traceback" not in err
    (journal,) = tmp_path.glob("*.jsonl")
    assert footplate("verify", str(journal)).returncode == 0


def test_a_second_run_on_the_same_engine_is_refused(tmp_path: Path) -> None:
    first = subprocess.Popen(
        [sys.executable, "-m", "assistant.cli", "run", "--typed", "--mute", "--out", str(tmp_path)],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    )  # fmt: skip
    assert first.stdout is not None
    first.stdout.readline()
    second = footplate("run", "--typed", "--mute", "--out", str(tmp_path))
    first.communicate(input="", timeout=20)
    assert second.returncode == 3
    assert "Traceback" not in second.stderr


def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    file = tmp_path / "file"
    file.write_text("in the way", encoding="utf-8")
    done = footplate("run", "--typed", "--mute", "--out", str(file / "below"))
    assert done.returncode == 3
    assert "Traceback" not in done.stderr
    assert len(done.stderr.strip().splitlines()) <= 2


def test_a_practice_without_sound_comes_through(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    code, out, err = run(
        capsys, "rehearse", "--silent", "--engine", "copper", "--seed", "3", "--json",
        "--out", str(tmp_path),
    )  # fmt: skip
    assert code == 0, err
    result = records(out)[-1]
    assert result["ok"] is True
    assert result["phases_done"] == [
        "preparation", "firing", "raising steam", "tick-over", "pumping",
    ]  # fmt: skip
    assert result["readings"]["wrong"] == 0
    assert result["readings"]["spoken"] >= 15
    assert Path(str(result["journal"])).exists()


def test_a_practice_that_loses_water_raises_the_danger(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    _, out, _ = run(
        capsys, "rehearse", "--silent", "--engine", "copper", "--seed", "2", "--json",
        "--fault", "low water", "--out", str(tmp_path),
    )  # fmt: skip
    result = records(out)[-1]
    assert result["readings"]["wrong"] == 0
    assert {"low water", "water out of sight"} & set(result["alarms"])
