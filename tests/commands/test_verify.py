"""`footplate verify`: whole, cut, altered, sealed; and journals that no command can use."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from shell import newer, run, written

NEWER = "written by a newer program (version 9.0, format 99); this one reads format 2"


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
