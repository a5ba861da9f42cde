"""Journals in trouble, at the shell: a clear line and the right exit code."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from assistant.cli import main
from assistant.commands.run import end_failure
from assistant.commands.session_build import header_of
from assistant.journal.header import Header, KeptText
from assistant.journal.writer import Journal
from assistant.messages import Ended, ReadingAccepted, Report, StopAsked, Tick

NEWER = "written by a newer program (version 9.0, format 99); this one reads format 1"


@pytest.fixture(autouse=True)
def _own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FOOTPLATE_HOME", str(tmp_path / "home"))


def run(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, str, str]:
    code = main([str(word) for word in words])
    out, err = capsys.readouterr()
    return code, out, err


def written(path: Path, end: bool = True, engine: str = "practice", seal: bool = False) -> Path:
    from assistant.config.engine_file import find_engine

    path.parent.mkdir(parents=True, exist_ok=True)
    header = header_of(find_engine(engine), "2026-05-01T09:00:00+00:00", 1, "typed")
    with Journal.create(path, header) as journal:
        journal.event(Tick(1.0))
        journal.effect(1.0, ReadingAccepted(Report("pressure", 20.0, "psi")))
        if end:
            journal.event(StopAsked(2.0))
            journal.effect(2.0, Ended("stopped"))
        if seal:
            journal.seal()
        journal.sync()
    return path


def newer(path: Path) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    first = {"n": 0, "at": 0, "kind": "journal", "format": 99, "program": "9.0",
             "engine_name": "Practice engine"}  # fmt: skip
    path.write_text(json.dumps(first) + "\n")
    return path


@pytest.mark.parametrize("verb", [["verify"], ["replay"], ["export", "--out", "o.csv"],
                                  ["report", "--out", "o.html"]])  # fmt: skip
def test_a_newer_journal_is_refused_by_its_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], verb: list[str]
) -> None:
    path = newer(tmp_path / "n.jsonl")
    code, _, err = run(capsys, *verb, path)
    assert code == 2
    assert f"{path}: {NEWER}" in err


@pytest.mark.parametrize(
    ("verb", "code"),
    [(["verify"], 1), (["replay"], 2), (["export", "--out", "o.csv"], 2),
     (["report", "--out", "o.html"], 2)],
)  # fmt: skip
def test_an_empty_file_is_said_to_be_empty(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], verb: list[str], code: int
) -> None:
    path = tmp_path / "zero.jsonl"
    path.touch()
    assert run(capsys, *verb, path) == (code, "", f"footplate: {path}: is empty, no journal\n")


def test_a_journal_cut_between_its_first_records_is_not_right(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    whole = written(tmp_path / "whole.jsonl").read_bytes().splitlines(keepends=True)
    path = tmp_path / "cut.jsonl"
    path.write_bytes(b"".join(whole[:3]))
    code, _, err = run(capsys, "verify", path)
    assert (code, err) == (1, f"footplate: {path}: does not hold its first records\n")


def test_a_digest_must_be_long_enough_to_mean_something(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path / "day.jsonl", seal=True)
    for short in ("", " ", "1234"):
        code, _, err = run(capsys, "verify", path, "--digest", short)
        assert code == 2
        assert "sixteen digits" in err


def test_verify_says_the_seal_as_it_was_spoken(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path / "day.jsonl", seal=True)
    _, out, _ = run(capsys, "verify", path, "--json")
    seal = json.loads(out)["sealed"]
    assert len(seal) == len("0000 0000 0000 0000")
    assert f"sealed {seal}" in run(capsys, "verify", path)[1]
    code, out, _ = run(capsys, "verify", path, "--digest", seal)
    assert (code, "it is the one that was written down" in out) == (0, True)
    other = ("1" if seal[0] != "1" else "2") + seal[1:]
    code, _, err = run(capsys, "verify", path, "--digest", other)
    assert code == 1
    assert f"it was sealed {seal}, not {other}" in err


def test_verify_says_that_a_journal_is_not_sealed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path / "day.jsonl")
    assert "not sealed" in run(capsys, "verify", path)[1]
    code, _, err = run(capsys, "verify", path, "--digest", "1111 2222 3333 4444")
    assert code == 1
    assert "it was never sealed" in err


def test_resuming_when_all_have_ended_names_the_last_and_says_what_to_do(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    written(tmp_path / "2026-05-01_a.jsonl")
    last = written(tmp_path / "2026-05-02_b.jsonl")
    code, _, err = run(capsys, "run", "--resume", "--typed", "--mute", "--engine", "practice",
                       "--out", tmp_path)  # fmt: skip
    assert code == 2
    assert f"the last one, {last.name}, came to its end" in err
    assert "without --resume" in err


def test_resuming_where_there_is_no_journal_at_all(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, _, err = run(capsys, "run", "--resume", "--typed", "--mute", "--engine", "practice",
                       "--out", tmp_path / "none")  # fmt: skip
    assert code == 2
    assert "there is none at all" in err


def test_a_newer_journal_beside_it_does_not_stop_a_resumption(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    from assistant.journal import reader

    unfinished = written(tmp_path / "2026-05-01_a.jsonl", end=False)
    newer(tmp_path / "2026-06-01_n.jsonl")
    (tmp_path / "2026-06-02_z.jsonl").touch()
    found = reader.last_unfinished(tmp_path, "Practice engine")
    assert found is not None
    assert found.path == unfinished


def test_a_changed_journal_is_not_gone_on_with(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path / "2026-05-01_a.jsonl", end=False)
    path.write_bytes(path.read_bytes().replace(b'"value":20.0', b'"value":25.0'))
    code, _, err = run(capsys, "run", "--resume", "--typed", "--mute", "--engine", "practice",
                       "--out", tmp_path)  # fmt: skip
    assert code == 1
    assert f"{path}: was altered and is not gone on with: record" in err
    assert "begin a new one without --resume" in err


def test_a_folder_that_cannot_be_written_names_the_way_out(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file").touch()
    code, _, err = run(capsys, "run", "--typed", "--mute", "--engine", "practice",
                       "--out", tmp_path / "file" / "x")  # fmt: skip
    assert code == 3
    assert "another folder with --out" in err


def test_one_journal_is_one_journal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    written(tmp_path / "a.jsonl")
    assert "1 journal in" in run(capsys, "journals", tmp_path)[2]
    shutil.copy(tmp_path / "a.jsonl", tmp_path / "b.jsonl")
    assert "2 journals in" in run(capsys, "journals", tmp_path)[2]


def test_what_could_not_be_written_at_the_end_is_counted() -> None:
    assert end_failure("disk: full", 0) == "disk: full; the journal is not sealed"
    assert end_failure("disk: full", 3) == (
        "disk: full; the journal is not sealed, and its last 3 records are not in it"
    )


def test_a_header_without_an_engine_is_a_clear_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "odd.jsonl"
    kept = (KeptText("checklist", "c.yaml", "x"),)
    Journal.create(path, Header("Practice engine", "2026-05-01", 1, 101_325.0, kept)).close()
    code, _, err = run(capsys, "replay", path)
    assert code == 2
    assert "keeps no engine file" in err


def test_a_journal_that_is_listed_is_found_by_its_name_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    written(tmp_path / "home" / "journals" / "day.jsonl")
    written(tmp_path / "home" / "journals" / "practice" / "trial.jsonl")
    monkeypatch.chdir(tmp_path)
    assert run(capsys, "verify", "day.jsonl")[0] == 0
    assert run(capsys, "verify", "trial.jsonl")[0] == 0
    assert "besides 1 journal of practices in" in run(capsys, "journals")[2]
    assert run(capsys, "export", "day.jsonl", "--out", tmp_path / "o.csv")[0] == 0
    code, _, err = run(capsys, "verify", "other.jsonl")
    assert (code, "other.jsonl: no such file" in err) == (2, True)


def test_an_export_is_fed_back_to_the_forecast(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = Path(__file__).parent.parent / "data" / "journals" / "session_0.1.0_practice.jsonl"
    past, now = tmp_path / "past.csv", tmp_path / "now.csv"
    assert run(capsys, "export", kept, "--out", past)[0] == 0
    now.write_text(
        "time,what,value,unit\n00:00:00,water,0.5,glass\n00:05:00,fire,lit,\n"
        "00:41:00,pressure,5,psi\n00:50:00,pressure,20,psi\n"
    )
    words = ("forecast", "--engine", "practice", "--readings", now, "--json")
    _, alone, _ = run(capsys, *words)
    code, out, err = run(capsys, *words, "--past", past)
    assert code == 0, err
    assert json.loads(alone)["learned_from"] == 0
    assert json.loads(out)["learned_from"] == 1
    code, _, err = run(capsys, "forecast", "--engine", "copper", "--readings", now, "--past", past)
    assert (code, "of another engine" in err) == (2, True)
