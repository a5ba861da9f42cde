"""`footplate run`: typed lines, Ctrl-C, a second run, a bad folder, the wake option."""

from __future__ import annotations

import json
import os
import pty
import signal
import subprocess
import sys
import termios
import time
from pathlib import Path

import pytest
from shell import footplate, own_engine, records, run

from assistant.app import end_failure
from assistant.cli import main
from assistant.journal import reader
from assistant.messages import Started

pytestmark = pytest.mark.real  # `run` writes its time of start, and waits


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
        if "Is that her plate?" in line:
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


def test_a_folder_that_cannot_be_written_names_the_way_out(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file").touch()
    code, _, err = run(capsys, "run", "--typed", "--mute", "--engine", "practice",
                       "--out", tmp_path / "file" / "x")  # fmt: skip
    assert code == 3
    assert "another folder with --out" in err


def test_what_could_not_be_written_at_the_end_is_counted() -> None:
    assert end_failure("disk: full", 0) == "disk: full; the journal is not sealed"
    assert end_failure("disk: full", 3) == (
        "disk: full; the journal is not sealed, and its last 3 records are not in it"
    )


def test_wake_is_in_the_journal_and_typed_lines_count_without_the_phrase(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    script = tmp_path / "script.txt"
    script.write_text("00:00:05\tregulator shut\n00:00:20\tpressure zero\n00:01:00\t\n")
    words = ["run", "--script", str(script), "--wake", "--json", "--out", str(tmp_path / "books")]
    assert main(words) == 0
    told = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert [r["value"] for r in told if r["did"] == "reading"] == ["shut", 0.0]
    (journal,) = (tmp_path / "books").glob("*.jsonl")
    first = next(iter(reader.read(journal).events()))
    assert isinstance(first, Started) and first.wake
    assert main(["replay", str(journal)]) == 0


def test_a_talk_key_and_a_wake_phrase_exclude_each_other(
    capsys: pytest.CaptureFixture[str],
) -> None:
    with pytest.raises(SystemExit) as left:
        main(["run", "--wake", "--talk-key"])
    assert left.value.code == 2
    assert "not allowed with argument" in capsys.readouterr().err


def test_a_live_run_without_an_engine_file_is_refused_with_how_to_get_one(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, out, err = run(capsys, "run", "--out", tmp_path)
    assert (code, out) == (2, "")
    assert "--engine FILE" in err and "footplate check FILE" in err
    assert "practice.yaml" in err  # to be copied
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("resume", [False, True])
@pytest.mark.parametrize("engine", ["practice", "copper", "fullsize"])
def test_a_live_run_never_begins_on_invented_figures(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], engine: str, resume: bool
) -> None:
    more = ["--resume"] if resume else []
    code, _, err = run(capsys, "run", "--engine", engine, "--out", tmp_path, *more)
    assert code == 2
    assert f"{engine}.yaml: its figures are invented" in err
    assert "take 'invented' out" in err
    assert not list(tmp_path.iterdir())


def test_an_owners_file_gets_as_far_as_the_microphone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own = own_engine(tmp_path)
    _, _, err = run(
        capsys, "run", "--engine", own, "--microphone", "no such thing", "--mute",
        "--out", tmp_path / "books",
    )  # fmt: skip
    assert "invented" not in err


@pytest.mark.parametrize("given", [[], ["--engine", "practice"]])
def test_a_script_may_use_invented_figures_and_says_so(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], given: list[str]
) -> None:
    script = tmp_path / "script.txt"
    script.write_text("00:00:30\tthat's right\n00:01:00\t\n", encoding="utf-8")
    code, out, err = run(
        capsys, "run", "--script", script, "--json", "--out", tmp_path / "books", *given
    )
    assert code == 0
    assert ("the figures of this engine are invented" if given else "the invented practice") in err
    told = records(out)
    asked = [r["text"] for r in told if r["did"] == "say" and "Is that her plate?" in r["text"]]
    assert len(asked) == 1
    assert asked[0].startswith("Practice engine. Wanted pressure a hundred and twenty pounds.")
    steps = [(r["step"], r["state"]) for r in told if r["did"] == "step"]
    assert steps[:2] == [("her plate", "asked"), ("her plate", "done")]


def test_taking_over_by_script_asks_for_the_plate_too(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    script = tmp_path / "script.txt"
    script.write_text("00:00:30\twater half\n00:01:00\t\n", encoding="utf-8")
    code, out, _ = run(
        capsys, "run", "--script", script, "--from", "raising steam", "--json",
        "--out", tmp_path / "books",
    )  # fmt: skip
    assert code == 0
    told = records(out)
    assert any(r["did"] == "say" and "Is that her plate?" in r["text"] for r in told)
    assert [r["value"] for r in told if r["did"] == "reading"] == [0.5]


@pytest.mark.parametrize("trouble", ["stopped", "gone", "hung up"])
def test_no_terminal_can_stop_the_watch(tmp_path: Path, trouble: str) -> None:
    """A danger is in the book and a first signal ends it, whatever the terminal does."""
    master, slave = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-m", "assistant.cli", "run", "--typed", "--mute", "--out", str(tmp_path)],
        stdin=subprocess.PIPE, stdout=slave, stderr=slave, start_new_session=True,
    )  # fmt: skip
    shown = b""
    while b"Is that her plate?" not in shown:
        shown += os.read(master, 4096)
    if trouble == "stopped":
        termios.tcflow(slave, termios.TCOOFF)
    os.close(slave)
    if trouble == "gone":
        os.close(master)
    assert process.stdin is not None
    process.stdin.write(b"someone is hurt\n")
    process.stdin.flush()
    (journal,) = tmp_path.glob("*.jsonl")
    due_s = time.monotonic() + 20.0
    while b'"grade":"DANGER","state":"raised"' not in journal.read_bytes():
        assert time.monotonic() < due_s
        time.sleep(0.05)
    process.send_signal(signal.SIGHUP if trouble == "hung up" else signal.SIGTERM)
    if trouble == "hung up":
        os.read(master, 4096)
    assert process.wait(20.0) == 0
    kept = reader.read(journal)
    assert (kept.state, kept.finished) == ("whole", True)
    assert kept.seal is not None
    process.stdin.close()
    if trouble != "gone":
        os.close(master)


def test_a_screen_on_a_full_disk_ends_nothing(tmp_path: Path) -> None:
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "assistant.cli", "run", "--typed", "--mute", "--out", tmp_path],
            input=b"note caf\xc3\xa9\n", stdout=full, stderr=subprocess.PIPE, check=False,
            env={**os.environ, "PYTHONIOENCODING": "ascii"}, timeout=60,
        )  # fmt: skip
    assert done.returncode == 0, done.stderr
    (journal,) = tmp_path.glob("*.jsonl")
    assert reader.read(journal).seal is not None


def test_closed_standard_input_is_told_and_leaves_no_book(tmp_path: Path) -> None:
    command = f"{sys.executable} -m assistant.cli run --typed --mute --out {tmp_path} <&-"
    done = subprocess.run(
        ["sh", "-c", command], capture_output=True, text=True, timeout=60, check=False
    )
    assert done.returncode == 2, done.stderr
    assert "standard input, which is closed" in done.stderr
    assert list(tmp_path.glob("*.jsonl")) == []


PEOPLE_SCRIPT = "00:00:05\tAnn has the watch\n00:00:30\t\n"


def test_people_named_at_the_start_are_understood_and_in_the_journal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    script = tmp_path / "script.txt"
    script.write_text(PEOPLE_SCRIPT)
    words = ["run", "--script", str(script), "--json", "--out", str(tmp_path / "books")]
    assert main([*words, "--people", "Ann, Bob"]) == 0
    told = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert [r["value"] for r in told if r["did"] == "reading"] == ["Ann"]
    (journal,) = (tmp_path / "books").glob("*.jsonl")
    first = next(iter(reader.read(journal).events()))
    assert isinstance(first, Started) and first.people == ("Ann", "Bob")
    assert main(["replay", str(journal)]) == 0


def test_names_that_cannot_be_told_apart_are_refused_before_a_book_is_begun(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    script = tmp_path / "script.txt"
    script.write_text(PEOPLE_SCRIPT)
    words = ["--script", script, "--out", tmp_path / "books", "--people", "Ann, Anna"]
    code, _, err = run(capsys, "run", *words)
    assert code == 2
    assert "--people: Anna: sounds too much like 'Ann'" in err
    assert not (tmp_path / "books").exists()
