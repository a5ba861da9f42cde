"""`footplate replay`: the record comes out again, or the difference is named."""

from __future__ import annotations

from pathlib import Path

import pytest
from shell import records, run, scripted

from assistant.journal.header import Header, KeptText
from assistant.journal.writer import Journal

pytestmark = pytest.mark.real  # a practice has a date of its own


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


def test_a_header_without_an_engine_is_a_clear_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "odd.jsonl"
    kept = (KeptText("checklist", "c.yaml", "x"),)
    Journal.create(path, Header("Practice engine", "2026-05-01", 1, 101_325.0, kept)).close()
    code, _, err = run(capsys, "replay", path)
    assert code == 2
    assert "keeps no engine file" in err


def test_a_journal_cut_or_altered_is_not_right_and_the_place_is_told(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    journal = scripted(capsys, tmp_path)
    raw = journal.read_bytes()
    lines = raw.splitlines(True)
    middle = len(lines) // 2
    lines[middle] = lines[middle].replace(b'"at":', b'"at":1', 1)
    for spoilt, state in ((b"".join(lines), "altered"), (raw[:-5], "cut")):
        journal.write_bytes(spoilt)
        code, out, err = run(capsys, "replay", journal, "--json")
        assert code == 1
        (told,) = records(out)
        assert (told["same"], told["state"]) == (False, state)
        assert told["where"] == (middle if state == "altered" else len(lines) - 1)
        assert f"{state}: record {told['where']}" in err
