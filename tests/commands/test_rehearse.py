"""`footplate rehearse`: whole practices without sound."""

from __future__ import annotations

from pathlib import Path

import pytest
from shell import records, run

pytestmark = pytest.mark.real  # a practice has a date of its own


def test_a_practice_without_sound_comes_through(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    code, out, err = run(
        capsys, "rehearse", "--silent", "--engine", "copper", "--seed", "3", "--json",
        "--out", str(tmp_path),
    )  # fmt: skip
    assert code == 0, err
    result = records(out)[-1]
    assert result["ok"] is True
    assert result["phases_done"] == [
        "preparation", "firing", "raising steam", "tick-over", "pumping",
    ]  # fmt: skip
    assert result["readings"]["wrong"] == 0
    assert result["readings"]["spoken"] >= 15
    assert Path(str(result["journal"])).exists()


def test_a_practice_that_loses_water_raises_the_danger(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    _, out, _ = run(
        capsys, "rehearse", "--silent", "--engine", "copper", "--seed", "2", "--json",
        "--fault", "low water", "--out", str(tmp_path),
    )  # fmt: skip
    result = records(out)[-1]
    assert result["readings"]["wrong"] == 0
    assert {"low water", "water out of sight"} & set(result["alarms"])
