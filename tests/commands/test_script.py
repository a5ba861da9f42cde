"""`footplate run --script`: a false clock, JSON lines, and mistakes in the script."""

from __future__ import annotations

from pathlib import Path

import pytest
from shell import SCRIPT, records, run

from assistant.commands.script import read_script
from assistant.errors import FileWrongError

pytestmark = pytest.mark.real  # `run` writes its time of start


def test_a_script_tells_everything_in_order(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    file = tmp_path / "script.txt"
    file.write_text(SCRIPT, encoding="utf-8")
    code, out, _ = run(
        capsys, "run", "--script", str(file), "--json", "--out", str(tmp_path / "books")
    )
    assert code == 0
    told = records(out)
    assert all({"at_s", "did"} <= set(record) for record in told)
    times = [record["at_s"] for record in told]
    assert times == sorted(times)
    readings = [r for r in told if r["did"] == "reading"]
    assert {"reading": "pressure", "value": 0.0, "unit": "psi", "state": "accepted"}.items() <= (
        next(r for r in readings if r["reading"] == "pressure").items()
    )
    steps = [(r["step"], r["state"]) for r in told if r["did"] == "step"]
    assert ("water in the glass", "asked") in steps
    assert ("water in the glass", "done") in steps
    assert ("regulator shut", "done") in steps
    assert {r["state"] for r in readings} <= {"accepted", "refused", "corrected"}


def test_a_wrong_script_tells_all_its_lines_at_once(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    file = tmp_path / "script.txt"
    file.write_text("00:00:10\tready\nsoon\tready\n00:00:05\tready\n", encoding="utf-8")
    code, _, err = run(capsys, "run", "--script", str(file))
    assert code == 2
    assert f"{file}:2:1" in err
    assert f"{file}:3:1" in err


def test_a_far_year_is_no_time_of_a_script(tmp_path: Path) -> None:
    for hours in ("9" * 20, "9" * 5000, "1000"):
        file = tmp_path / "far.txt"
        file.write_text(f"{hours}:00:00\tready\n")
        with pytest.raises(FileWrongError, match="not a line of the form"):
            read_script(file)
