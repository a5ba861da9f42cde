"""`footplate plan`: a time to light up that lies before the time wanted; times that are none."""

from __future__ import annotations

import pytest
from shell import records, run


def test_the_sure_time_is_earlier_and_the_day_before_is_named(
    capsys: pytest.CaptureFixture[str],
) -> None:
    code, out, _ = run(capsys, "plan", "10:30", "--engine", "practice", "--json")
    (plan,) = records(out)
    assert code == 0
    assert plan["light_up_sure"] < plan["light_up"] < "10:30"
    assert plan["minutes"]["low"] < plan["minutes"]["mid"] < plan["minutes"]["high"]
    assert plan["learned_from"] == 0
    _, out, _ = run(capsys, "plan", "0:10", "--engine", "practice")
    assert "In steam by 0:10: light up at" in out
    assert "the day before" in out


@pytest.mark.parametrize("time", ["24:00", "10.30", "half past ten", "10:60", ""])
def test_what_is_no_time_of_day_is_refused(capsys: pytest.CaptureFixture[str], time: str) -> None:
    code, out, err = run(capsys, "plan", time, "--engine", "practice")
    assert (code, out) == (2, "")
    assert "is not a time of day like 10:30" in err
