"""`run --teach`: told once on this engine, kept beside the journals, replayed the same."""

from __future__ import annotations

from pathlib import Path

import pytest
from shell import run

SCRIPT = "00:00:05\twater half\n00:00:20\tbrake on and chocked\n00:00:30\toiled round\n00:01:00\t\n"
pytestmark = pytest.mark.real  # a start reads the clock
CHOCKS = "Chocks hold when the brake slips."


def teach(capsys: pytest.CaptureFixture[str], folder: Path, *more: object) -> tuple[str, str]:
    script = folder / "script.txt"
    script.write_text(SCRIPT, encoding="utf-8")
    code, out, err = run(
        capsys, "run", "--script", script, "--engine", "practice", "--json",
        "--out", folder / "books", *more,
    )  # fmt: skip
    assert code == 0, err
    return out, err


def test_the_reason_is_told_once_to_each_and_the_book_replays(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    first, told = teach(capsys, tmp_path, "--teach", "Ann")
    assert CHOCKS in first and "what Ann was told:" in told
    (book,) = (tmp_path / "books").glob("*.jsonl")
    assert run(capsys, "replay", book)[0] == 0
    book.unlink()
    assert CHOCKS not in teach(capsys, tmp_path, "--teach", "Ann")[0]
    (book,) = (tmp_path / "books").glob("*.jsonl")
    assert run(capsys, "replay", book)[0] == 0, "what was told before is in the book"
    assert CHOCKS in teach(capsys, tmp_path, "--teach", "Bob")[0]
    assert CHOCKS not in teach(capsys, tmp_path)[0]
    assert len(list((tmp_path / "books").glob("*.learner.json"))) == 2


@pytest.mark.parametrize("name", ["", "  ", "../x", "a" * 41, "a\nb;"])
def test_what_is_no_name_is_refused(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, name: str
) -> None:
    script = tmp_path / "script.txt"
    script.write_text(SCRIPT, encoding="utf-8")
    code, _, err = run(
        capsys, "run", "--script", script, "--engine", "practice", "--out", tmp_path,
        "--teach", name,
    )  # fmt: skip
    assert code == 2 and "is no name" in err
    assert not list(tmp_path.glob("*.jsonl"))


def test_a_rehearsal_keeps_the_reasons_and_not_what_its_operator_did(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    code, _, err = run(
        capsys, "rehearse", "--silent", "--engine", "practice", "--json", "--out", tmp_path,
        "--teach", "Ann",
    )  # fmt: skip
    assert code == 0, err
    (kept,) = tmp_path.glob("*.learner.json")
    text = kept.read_text(encoding="utf-8")
    assert "firing/water before the match" in text
    assert '"anticipated": []' in text
