"""`footplate rehearse`: whole practices without sound."""

from __future__ import annotations

from pathlib import Path

import pytest
from shell import own_engine, records, run

from assistant.journal import reader
from assistant.messages import StepDone

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


BY_ITS_LIFT = "allowed_pressure: 120 psi\n"


@pytest.mark.parametrize(
    ("valve", "seed"),
    [("{lifts: 120 psi, feathers: 112 psi}", 1), ("{lifts: 120 psi}", 2), ("{lifts: 145 psi}", 3)],
)
def test_a_valve_set_at_the_working_pressure_or_without_a_feather_comes_through(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, valve: str, seed: int
) -> None:
    engine = own_engine(tmp_path)
    text = engine.read_text(encoding="utf-8")
    text = text.replace("{lifts: 145 psi, feathers: 132 psi}", valve)
    engine.write_text(text + (BY_ITS_LIFT if "120" in valve else ""), encoding="utf-8")
    assert run(capsys, "check", engine)[0] == 0
    code, out, err = run(
        capsys, "rehearse", "--silent", "--engine", engine, "--seed", seed, "--json",
        "--out", tmp_path / "books",
    )  # fmt: skip
    assert code == 0, err
    result = records(out)[-1]
    assert result["ok"] is True
    page = tmp_path / "page.html"
    assert run(capsys, "report", result["journal"], "--out", page)[0] == 0
    allowed = "120 psi" if "120" in valve else "not in the engine file"
    assert allowed in page.read_text(encoding="utf-8")


def test_the_practice_operator_answers_whether_it_is_her_plate(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    _, out, err = run(capsys, "rehearse", "--silent", "--seed", "1", "--json", "--out", tmp_path)
    assert "using the invented practice engine" in err
    kept = reader.read(Path(records(out)[-1]["journal"]))
    done = [e for turn in kept.exchanges() for e in turn.effects if isinstance(e, StepDone)]
    assert (done[0].step, done[0].answer) == ("her plate", "plate right")


def test_a_practice_of_some_minutes_ends_in_good_order(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    code, out, err = run(
        capsys, "rehearse", "--silent", "--engine", "copper", "--seed", "3", "--json",
        "--minutes", "5", "--out", str(tmp_path),
    )  # fmt: skip
    assert code == 0, err
    result = records(out)[-1]
    assert result["ok"] is True and result["ended"] == "stopped"
    assert 5.0 <= result["minutes"] < 6.0
    assert run(capsys, "replay", str(result["journal"]))[0] == 0


@pytest.mark.parametrize("minutes", ["0", "-5", "nan", "soon"])
def test_minutes_that_are_none_are_refused(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, minutes: str
) -> None:
    code, _, err = run(capsys, "rehearse", "--minutes", minutes, "--out", tmp_path)
    assert code == 2 and "is no number from" in err
