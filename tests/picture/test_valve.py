"""The safety valve: what moves, what should, and what nobody told of."""

from __future__ import annotations

from dataclasses import replace

from picture_story import PRACTICE, picture, psi

from assistant.messages import Report

FEATHERS, LIFTS, SHUT = (Report("valve", v) for v in ("feathering", "lifting", "shut"))


def test_nothing_told_is_unknown_and_never_shut() -> None:
    valve = picture((0, psi(100))).valve
    assert (valve.value, valve.age_s, valve.witnesses) == ("unknown", None, ())


def test_what_was_told_with_its_age() -> None:
    for report in (FEATHERS, LIFTS, SHUT):
        valve = picture((0, psi(100)), (1, report), minute=2).valve
        assert (valve.value, valve.since, valve.age_s) == (report.value, 60.0, 60.0)
        assert valve.witnesses == (f"valve {report.value}, 1 min ago",)


def test_overdue_from_the_feather_on() -> None:
    assert picture((0, psi(131))).valve.value == "unknown"
    valve = picture((0, psi(132)), (4, psi(135)), minute=5).valve
    assert (valve.value, valve.since) == ("overdue", 0.0)
    assert valve.witnesses == ("gauge 135 psi, 1 min ago",)
    assert picture((0, psi(132)), (1, FEATHERS)).valve.value == "feathering"
    assert picture((0, psi(132)), (1, SHUT)).valve.value == "overdue", "it should have moved"
    assert picture((0, psi(132)), (1, psi(125))).valve.value == "unknown"


def test_overdue_from_the_set_pressure_where_it_never_feathers() -> None:
    engine = replace(PRACTICE, valve_feathers_gauge_pa=None)
    assert picture((0, psi(144)), engine=engine).valve.value == "unknown"
    assert picture((0, psi(145)), engine=engine).valve.value == "overdue"


def test_once_agreed_only_the_lift_makes_it_overdue() -> None:
    assert picture((0, psi(140)), agreed=True).valve.value == "unknown"
    valve = picture((0, psi(146)), agreed=True).valve
    assert (valve.value, valve.over_lift) == ("overdue", True)


def test_over_the_lift_a_movement_at_the_feather_does_not_excuse_it() -> None:
    feathered = ((0, psi(132)), (0, FEATHERS), (1, SHUT))
    assert picture(*feathered).valve.value == "shut"
    assert picture(*feathered, (9, psi(146))).valve.value == "overdue"


def test_a_movement_is_over_when_a_believed_gauge_has_fallen() -> None:
    moved = ((0, psi(135)), (0, LIFTS))
    assert picture(*moved, (9, psi(110))).valve.value == "unknown"
    assert picture(*moved, (9, psi(125))).valve.value == "lifting"
    assert picture(*moved, (9, psi(110)), conflict="warning").valve.value == "lifting"


def test_after_a_long_break_it_is_unknown() -> None:
    assert picture((0, SHUT), minute=60, breaks=((60.0, 3000.0),)).valve.value == "unknown"


def test_the_last_lifts_are_kept() -> None:
    told = [(float(minute), LIFTS if minute % 2 else SHUT) for minute in range(12)]
    assert picture(*told).valve.lifts == (300.0, 420.0, 540.0, 660.0)
