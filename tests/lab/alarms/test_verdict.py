"""A practice judged: shown, told in time, false by the truth, outliving a correction."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from assistant.alarms.rules import RULES
from assistant.boiler.scales import PSI_PA
from assistant.config.engine_file import find_engine
from assistant.errors import InputWrongError
from assistant.lab.alarms import alarm_tables, alarms_bench
from assistant.lab.alarms.alarm_day import HEALTHY, AlarmDay, Truth
from assistant.lab.alarms.alarm_truth import BY_THEMSELVES, TRUE_WHEN, is_false
from assistant.lab.alarms.fault_names import TROUBLES
from assistant.lab.alarms.kept_verdicts import KeptVerdicts
from assistant.lab.alarms.verdict import Verdict, judge
from assistant.messages import AlarmChanged, Grade, Report
from assistant.simulator.practice_faults import FAULTS

ENGINE = find_engine("practice").engine
NAMES = {rule.name for rule in RULES}


def truth(at: float, height: float = 0.6) -> Truth:
    """The boiler standing in steam."""
    return Truth(at, 6e5, height, False, True, 0.0, "shut", "shut", "shut", "shut")


def day(fault: str = HEALTHY, operator: str = "answers rightly", height: float = 0.6) -> AlarmDay:
    """Twenty minutes of which the fault begins after one."""
    kept = AlarmDay(ENGINE, fault, operator, 1, seconds=1200.0, begun_at=60.0, trouble_at=60.0)
    kept.truth += [truth(60.0 * minute, height) for minute in range(20)]
    return kept


def raised(at: float, name: str, grade: Grade = Grade.DANGER, state: str = "raised"):  # type: ignore[no-untyped-def]
    """As a day keeps it."""
    return at, AlarmChanged(name, grade, state)


def water(at: float, level: float) -> tuple[float, Report]:
    """A call of the glass."""
    return at, Report("water", level, "glass")


def low_water(told_at: float | None) -> Verdict:
    """A leak that shows at 400 and at 700 s."""
    kept = day("low water")
    kept.reports += [water(100.0, 0.75), water(400.0, 0.4), water(700.0, 0.2)]
    if told_at is not None:
        kept.alarms.append(raised(told_at, "low water"))
    return judge(kept, "practice")


@pytest.mark.parametrize(
    ("told_at", "in_time", "wait_s"),
    [(300.0, True, 0.0), (700.0, True, 300.0), (701.0, False, 301.0), (None, False, None)],
)
def test_told_in_time_is_by_the_second_report_that_shows_it(
    told_at: float | None, in_time: bool, wait_s: float | None
) -> None:
    verdict = low_water(told_at)
    assert verdict.shown == (400.0, 700.0)
    assert (verdict.in_time, verdict.wait_s) == (in_time, wait_s)


def test_where_is_the_water_names_nothing() -> None:
    assert not any(t.is_named_in("Where is the water?") for t in TROUBLES.values())
    assert TROUBLES["glass stuck"].is_named_in("The glass may be stuck.")


def test_every_practice_fault_has_its_names_and_every_name_is_an_alarm() -> None:
    assert set(TROUBLES) == FAULTS
    assert {name for t in TROUBLES.values() for name in t.alarms} <= NAMES


def test_every_alarm_has_its_truth() -> None:
    assert set(TRUE_WHEN) | BY_THEMSELVES == NAMES
    assert not set(TRUE_WHEN) & BY_THEMSELVES


def test_low_water_is_false_while_the_glass_is_well_up() -> None:
    assert is_false(day(), "low water", 600.0)
    assert is_false(day(height=ENGINE.glass.lower_mark), "low water", 600.0) is False


def test_a_false_danger_outlives_when_it_stands_after_two_right_readings() -> None:
    kept = day(operator="misreads one in ten")
    kept.misread.append((200.0, "water"))
    kept.reports += [water(200.0, 0.1), water(260.0, 0.6), water(320.0, 0.6)]
    kept.alarms += [raised(200.0, "low water"), raised(340.0, "low water", state="cleared")]
    assert judge(kept, "practice").outliving == 0
    kept.alarms[-1] = raised(500.0, "low water", state="cleared")
    verdict = judge(kept, "practice")
    assert verdict.outliving == 1
    assert [name for _, name, _ in verdict.false] == ["low water"]


def test_a_second_wrong_reading_begins_the_count_of_right_ones_again() -> None:
    kept = day(operator="misreads one in ten")
    kept.misread += [(200.0, "water"), (300.0, "water")]
    kept.reports += [water(200.0, 0.1), water(260.0, 0.6), water(300.0, 0.1), water(360.0, 0.6)]
    kept.alarms += [raised(200.0, "low water"), raised(500.0, "low water", state="cleared")]
    assert judge(kept, "practice").outliving == 0
    kept.reports.append(water(420.0, 0.6))
    assert judge(kept, "practice").outliving == 1


def test_a_gauge_at_the_lift_takes_no_pressure_over_it_back() -> None:
    lift_psi = ENGINE.valve_lifts_gauge_pa / PSI_PA
    kept = day(operator="misreads one in ten")
    kept.misread.append((200.0, "pressure"))
    for at, psi in ((200.0, 1.2 * lift_psi), (260.0, 0.7 * lift_psi), (320.0, lift_psi)):
        kept.reports.append((at, Report("pressure", psi, "psi")))
    kept.alarms.append(raised(200.0, "over-pressure"))
    assert judge(kept, "practice").outliving == 0
    kept.reports.append((380.0, Report("pressure", 0.7 * lift_psi, "psi")))
    kept.reports.append((440.0, Report("pressure", 0.7 * lift_psi, "psi")))
    assert judge(kept, "practice").outliving == 1


def test_a_silent_operator_is_to_be_at_danger_before_the_mark() -> None:
    kept = day(operator="does nothing", height=0.0)
    kept.reports.append(water(50.0, 0.5))
    kept.alarms += [raised(30.0, "low water"), raised(50.0, "low water", state="cleared")]
    kept.alarms.append(raised(180.0, "water not read"))
    verdict = judge(kept, "practice")
    assert (verdict.mark_at, verdict.danger_at) == (60.0, 180.0)
    assert not verdict.is_danger_before_mark
    assert verdict.is_danger_in_two_intervals


def silent_run(lost_kg: float) -> Verdict:
    """From three quarters at 50 s to the mark at 180 s, with so much lost by then."""
    kept = day("blow-down open", operator="does nothing")
    kept.reports.append(water(50.0, 0.75))
    kept.truth = [truth(60.0, 0.75), replace(truth(180.0, 0.2), lost_kg=lost_kg)]
    kept.alarms.append(raised(600.0, "water not read"))
    return judge(kept, "practice")


def test_a_loss_that_begins_after_the_last_report_is_counted_apart() -> None:
    assert silent_run(16.0).is_mark_unseen
    assert not silent_run(1.0).is_mark_unseen, "steam took it"
    assert not silent_run(16.0).is_danger_before_mark
    lines = list(alarm_tables.silent_lines([silent_run(16.0)]))
    assert any("no danger before the mark" in line and "2.2 min after" in line for line in lines)


def test_a_danger_that_stands_when_he_falls_silent_counts() -> None:
    kept = day(operator="does nothing", height=0.0)
    kept.alarms.append(raised(30.0, "low water"))
    assert judge(kept, "practice").is_danger_before_mark


def test_three_within_a_minute_is_chattering() -> None:
    kept = day()
    kept.alarms += [raised(at, "low water") for at in (100.0, 120.0, 150.0)]
    assert judge(kept, "practice").chattering == ("low water",)
    assert judge(kept, "practice").most_in_ten_minutes == 3


def test_the_tables_name_what_was_missed() -> None:
    lines = list(alarm_tables.all_lines([low_water(None), judge(day(), "practice")]))
    assert "never named: low water, answers rightly: seeds 1" in lines
    assert f"{Grade.DANGER.word}s found by the second report, answers rightly: 0 of 1" in lines


def test_healthy_days_of_the_one_who_answers_rightly_are_counted_apart() -> None:
    wanted = alarms_bench.practices(
        [HEALTHY, "low water"], ["answers rightly", "goes away"], 2, healthy=5
    )
    counts = [(w.fault, w.operator) for w in wanted]
    assert counts.count((HEALTHY, "answers rightly")) == 5
    assert counts.count((HEALTHY, "goes away")) == 2
    assert counts.count(("low water", "goes away")) == 2


def test_what_was_misread_shows_nothing() -> None:
    kept = day("low water")
    kept.reports += [water(100.0, 0.9), water(400.0, 0.6), water(700.0, 0.6), water(900.0, 0.3)]
    assert judge(kept, "practice").shown == (400.0, 700.0)
    kept.misread.append((100.0, "water"))
    assert judge(kept, "practice").shown == (900.0,)


def test_what_was_kept_is_not_played_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    played: list[int] = []

    def judged(wanted: alarms_bench.Wanted) -> Verdict:
        played.append(wanted.seed)
        return replace(low_water(700.0), seed=wanted.seed)

    monkeypatch.setattr(alarms_bench, "judged", judged)
    wanted = alarms_bench.practices(["low water"], ["answers rightly"], 3, healthy=1)
    file = tmp_path / "kept.jsonl"
    assert alarms_bench.run(wanted[:2], kept=KeptVerdicts(file, "abc")) != []
    assert alarms_bench.run(wanted, kept=KeptVerdicts(file, "abc"), play=False) == [
        replace(low_water(700.0), seed=seed) for seed in (1, 2)
    ]
    assert len(alarms_bench.run(wanted, kept=KeptVerdicts(file, "abc"))) == 3
    assert played == [1, 2, 3]
    assert alarms_bench.run(wanted, kept=KeptVerdicts(file, "other"), play=False) == []
    file.write_text("{}\n", encoding="utf-8")
    with pytest.raises(InputWrongError, match=":1: not a kept verdict"):
        KeptVerdicts(file, "abc")
