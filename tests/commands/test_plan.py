"""`footplate plan`: times to be there and to light up before the time wanted; what is no time."""

from __future__ import annotations

from pathlib import Path

import pytest
from shell import records, run

from assistant.commands.preparation_time import shown_minutes
from assistant.commands.session_build import header_of
from assistant.config.engine_file import find_engine
from assistant.journal.writer import Journal
from assistant.messages import (
    Effect,
    PhaseDone,
    ReadingAccepted,
    Report,
    Resumed,
    Started,
    StepOvertaken,
    Tick,
)


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


def test_the_timetable_goes_back_to_being_there(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "plan", "11:00", "--engine", "practice", "--json")
    (plan,) = records(out)
    assert plan["be_there"] < plan["light_up"] < plan["steam_up"] < "11:00"
    assert plan["be_there_sure"] < plan["light_up_sure"] < plan["steam_up_sure"] < "11:00"
    assert plan["be_there_sure"] < plan["be_there"]
    _, out, _ = run(capsys, "plan", "11:00", "--engine", "practice")
    rows = {line[:11].strip(): line.split()[-2:] for line in out.splitlines()[4:9]}
    assert rows == {
        "": ["in", "ten"],
        "be there": [plan["be_there"], plan["be_there_sure"]],
        "light up": [plan["light_up"], plan["light_up_sure"]],
        "steam up": [plan["steam_up"], plan["steam_up_sure"]],
        "ready": ["11:00", "11:00"],
    }
    assert "from the lists' own" in out


def test_a_longer_list_of_the_owner_wants_him_there_sooner(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    own = tmp_path / "own.yaml"
    own.write_text(
        "name: preparation\ntitle: Preparation\nphase: preparation\nextends: preparation\nsteps:\n"
        "  - {id: brass polished, say: Polish the brass., asks: brass, kind: act,\n"
        "     answers: [{state: bright, say: [brass is polished]}], minutes: 60,\n"
        "     why: The public is coming., source: 'common practice, no source'}\n",
        encoding="utf-8",
    )
    words = ["plan", "11:00", "--engine", "practice", "--json"]
    plain, longer = (
        records(run(capsys, *words, *more)[1])[0] for more in ([], ["--checklist", own])
    )
    assert longer["light_up"] == plain["light_up"]
    assert longer["be_there"] < plain["be_there"]


def test_her_own_days_show_how_long_preparing_takes(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    days = [_day(tmp_path / f"{i}.jsonl", prepared_min=110.0 + i) for i in range(3)]
    words = ["plan", "11:00", "--engine", "practice", "--json"]
    plain, learned = (
        records(run(capsys, *words, *more)[1])[0]["preparation"] for more in ([], ["--past", *days])
    )
    assert learned["learned_from"] == 3
    assert 2 * plain["minutes"]["mid"] < learned["minutes"]["mid"] < 118.0
    spread = [p["minutes"]["high"] / p["minutes"]["low"] for p in (plain, learned)]
    assert spread[1] < spread[0]
    assert "3 earlier days of hers" in learned["why"]


@pytest.mark.parametrize(
    ("how", "first", "between"),
    [
        ("rehearsal", Started(0.0), None),
        ("typed", Started(0.0, "raising steam"), None),
        ("typed", Started(0.0), Resumed(60.0, 900.0)),
        ("typed", Started(0.0), ReadingAccepted(Report("fire", "lit"))),
        ("typed", Started(0.0), StepOvertaken("preparation", "vent open", "steam")),
    ],
)
def test_what_was_no_whole_preparation_shows_none(
    tmp_path: Path, how: str, first: Started, between: Resumed | Effect | None
) -> None:
    assert shown_minutes(_day(tmp_path / "whole.jsonl")) == pytest.approx(110.0)
    assert shown_minutes(_day(tmp_path / "day.jsonl", how, first, between)) is None


def _day(
    path: Path,
    how: str = "typed",
    first: Started | None = None,
    between: Resumed | Effect | None = None,
    prepared_min: float = 110.0,
) -> Path:
    """A small journal: a preparation, a fire that is lit, a pressure."""
    header = header_of(find_engine("practice"), "2026-05-01T07:00:00+00:00", 1, how)
    with Journal.create(path, header) as journal:
        journal.event(first or Started(0.0))
        if isinstance(between, Resumed):
            journal.event(between)
        elif between is not None:
            journal.effect(30.0, between)
        after_s = 60.0 * prepared_min
        journal.effect(after_s, PhaseDone("preparation"))
        for later_s, report in (
            (600.0, Report("fire", "lit")),
            (3000.0, Report("pressure", 20.0, "psi")),
            (4200.0, Report("pressure", 60.0, "psi")),
            (5100.0, Report("pressure", 110.0, "psi")),
        ):
            journal.event(Tick(after_s + later_s))
            journal.effect(after_s + later_s, ReadingAccepted(report))
    return path
