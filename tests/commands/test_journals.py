"""`footplate journals`: the list, and journals found by their name."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from shell import run, written


def test_one_journal_is_one_journal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    written(tmp_path / "a.jsonl")
    assert "1 journal in" in run(capsys, "journals", tmp_path)[2]
    shutil.copy(tmp_path / "a.jsonl", tmp_path / "b.jsonl")
    assert "2 journals in" in run(capsys, "journals", tmp_path)[2]


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
