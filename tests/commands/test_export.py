"""`footplate export`: what is exported can be learned from."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from shell import run


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
