"""`run --wake` at the shell: it is in the book, needs no key, and typed lines need no phrase."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from assistant.cli import main
from assistant.journal import reader
from assistant.messages import Started


@pytest.fixture(autouse=True)
def _own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FOOTPLATE_HOME", str(tmp_path / "home"))


def test_it_is_in_the_book_and_typed_lines_count_without_the_phrase(
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


def test_a_key_and_a_phrase_are_not_both_wanted(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main(["run", "--wake", "--talk-key"])
    assert left.value.code == 2
    assert "not allowed with argument" in capsys.readouterr().err
