"""`footplate tune`: what it says where something is missing, and forgetting."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from assistant.cli import main


def test_forgetting_says_what_was_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("FOOTPLATE_HOME", str(tmp_path))
    (tmp_path / "voice").mkdir()
    (tmp_path / "voice" / "00.flac").write_bytes(b"sound")
    assert main(["tune", "--mine", "--forget"]) == 0
    assert "deleted" in capsys.readouterr().out
    assert not (tmp_path / "voice").exists()
    assert main(["tune", "--mine", "--forget"]) == 0
    assert "nothing to forget" in capsys.readouterr().out


def test_forget_alone_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tune", "--forget"]) == 2
    assert "--mine" in capsys.readouterr().err


def test_without_mine_it_names_both_ways(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tune"]) == 2
    told = capsys.readouterr().err
    assert "--mine" in told and "footplate train" in told
    assert len(told.splitlines()) == 1


def test_without_torch_nobody_is_asked_to_read(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(sys.modules, "torch", None)  # an import of it now fails
    assert main(["tune", "--mine"]) == 3
    assert ".[tune]" in capsys.readouterr().err
