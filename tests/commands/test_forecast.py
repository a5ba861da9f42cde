"""`footplate forecast --target`: what is no pressure above the air's is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.cli import main

ROWS = "time,what,value,unit\n0:05:00,fire,lit,\n0:50:00,pressure,60,psi\n"


@pytest.mark.parametrize("target", ["-5 psi", "0 psi", "x psi", "5 litre", "nan psi", "inf bar"])
def test_no_pressure(target: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    readings = tmp_path / "r.csv"
    readings.write_text(ROWS, encoding="utf-8")
    words = ["forecast", "--engine", "practice", "--readings", str(readings)]
    assert main([*words, f"--target={target}"]) == 2
    told = capsys.readouterr()
    assert "pressure" in told.err and told.out == ""
