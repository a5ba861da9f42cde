"""The water: its level, age and doubt."""

from __future__ import annotations

import pytest
from picture_story import OUT, glass, picture, psi

from assistant.messages import Report

LIT = (1, Report("fire", "lit"))
BACK = Report("glass", "comes back at once")
BROKEN, OVER = Report("emergency", "glass broken"), Report("emergency", "over")


def test_never_seen_is_not_known() -> None:
    water = picture(LIT).water
    assert (water.value, water.level, water.age_s, water.known) == ("never seen", None, None, False)


def test_level_age_reading_before_and_trend() -> None:
    water = picture((0, glass(0.5)), (5, glass(0.625)), minute=7).water
    assert (water.value, water.level, water.before) == ("known", 0.625, 0.5)
    assert (water.age_s, water.since, water.trend) == (120.0, 300.0, "rising")
    assert water.witnesses == ("water 0.625 glass, 2 min ago",)
    assert picture((0, glass(0.5)), (5, glass(0.5))).water.trend == "steady"
    assert picture((0, glass(0.5)), (5, glass(0.375))).water.trend == "falling"
    assert picture((0, glass(0.5))).water.trend == "unknown"


def test_the_interval_follows_the_engine() -> None:
    seen = (0, glass(0.5))
    assert picture(seen).water.interval_s is None
    assert picture(seen, LIT).water.interval_s == 900.0
    assert picture(seen, LIT, near_boiling=True).water.interval_s == 450.0
    assert picture(seen, LIT, (30, psi(10))).water.interval_s == 300.0


def test_older_than_its_interval_is_old_and_than_two_not_known() -> None:
    steam = ((0, psi(60)), (1, glass(0.5)))
    assert picture(*steam, minute=6).water.value == "known"
    old = picture(*steam, minute=6.1).water
    assert (old.value, old.known) == ("old", True)
    assert not picture(*steam, minute=11.1).water.known


def test_of_a_cold_boiler_a_level_is_old_after_a_long_break_only() -> None:
    assert picture((0, glass(0.5)), minute=120).water.value == "known"
    after = picture((0, glass(0.5)), minute=120, breaks=((60.0, 7000.0),))
    assert after.water.value == "old"
    assert not after.proves("water seen")


@pytest.mark.parametrize(
    ("level", "state"), [(0.25, "at the mark"), (0.2, "below the mark"), (0.3, "known")]
)
def test_the_lower_mark(level: float, state: str) -> None:
    water = picture((0, psi(60)), (1, glass(level))).water
    assert (water.value, water.known) == (state, True)
    late = picture((0, psi(60)), (1, glass(level)), minute=8).water
    assert late.value == ("old" if state == "known" else state), "age does not lift it"
    assert late.old


def test_out_of_sight_with_heat_is_not_to_be_steamed_until_looked_at() -> None:
    lost = (LIT, (2, glass(0.5)), (20, OUT))
    water = picture(*lost).water
    assert (water.value, water.known, water.level) == ("out of sight", False, None)
    assert water.not_to_be_steamed_since == 1200.0
    assert picture(*lost, (25, glass(0.5))).water.not_to_be_steamed_since == 1200.0
    look = (90, Report("boiler", "looked at"))
    assert picture(*lost, look).water.not_to_be_steamed_since == 1200.0, "the fire is in"
    cold = (*lost, (30, Report("fire", "drawn")), (80, psi(0)))
    assert picture(*cold, look).water.not_to_be_steamed_since is None
    cooled = ((0, Report("valve", "lifting")), (5, Report("fire", "drawn")), (200, psi(0)))
    assert picture(*cooled, (300, OUT)).water.not_to_be_steamed_since is None
    assert picture(*cooled[:1], (6, OUT)).water.not_to_be_steamed_since == 360.0
    assert picture((0, OUT)).water.not_to_be_steamed_since is None, "a cold boiler is filled"
    assert picture((0, OUT), warm_since=0.0).water.not_to_be_steamed_since == 0.0


def test_water_that_comes_back_is_doubted_until_blown_through_and_two_calls_agree() -> None:
    lost = (LIT, (2, glass(0.5)), (20, OUT), (22, glass(0.5)))
    doubted = picture(*lost).water
    assert (doubted.value, doubted.known, doubted.since) == ("doubted", False, 1200.0)
    assert picture(*lost, (24, glass(0.5))).water.value == "doubted", "not blown through"
    assert picture(*lost, (23, BACK)).water.value == "doubted", "one call"
    assert picture(*lost, (22.5, glass(0.5)), (23, BACK)).water.value == "doubted", "too near"
    assert picture(*lost, (23, BACK), (24, glass(0.75))).water.value == "doubted", "not agreed"
    assert picture(*lost, (23, BACK), (24, glass(0.5))).water.value == "known"
    assert picture(
        *lost, (23, BACK), (24, glass(0.5)), (30, OUT), (31, glass(0.5))
    ).water.value == ("doubted")


def test_a_broken_glass_shows_no_level_until_a_new_one_is_proved() -> None:
    broken = (LIT, (2, glass(0.5)), (20, BROKEN), (21, glass(0.5)))
    water = picture(*broken).water
    assert (water.value, water.known, water.since) == ("glass broken", False, 1200.0)
    assert picture(*broken, (22, BACK)).water.value == "glass broken", "the danger is not over"
    assert picture(*broken, (22, OVER), (23, glass(0.5))).water.value == "glass broken"
    new = (*broken, (22, OVER), (40, Report("glass", "new glass proved")))
    assert picture(*new).water.value == "unproved"
    proved = picture(*new, (41, BACK)).water
    assert (proved.value, proved.since) == ("unproved", 41 * 60.0), "called of the broken one"
    assert picture(*new, (41, BACK), (42, glass(0.5))).water.value == "known"
    assert picture(*broken, (22, OVER), (40, BACK), (41, glass(0.5))).water.value == "known"


@pytest.mark.parametrize("told", ["comes back slowly", "stays empty", "does not move"])
def test_a_glass_that_failed_its_test_shows_an_unproved_level(told: str) -> None:
    water = picture((0, glass(0.5)), (1, Report("glass", told))).water
    assert (water.value, water.known) == ("unproved", False)
    failed = ((0, glass(0.5)), (1, Report("glass", told)))
    assert not picture(*failed, (2, BACK)).water.known, "called before it was proved"
    assert picture(*failed, (2, BACK), (2, glass(0.5))).water.known


def test_from_when_the_next_reading_is_awaited() -> None:
    seen = (0, glass(0.5))
    assert picture(seen).water.awaited_since is None
    assert picture(seen, (10, Report("fire", "lit"))).water.awaited_since == 600.0
    steam = picture(seen, LIT, (10, psi(20))).water
    assert steam.awaited_since == 600.0 + 60.0 - 300.0, "a moment to call it"
    late = picture(seen, LIT, (40, psi(20))).water
    assert late.awaited_since == 60.0, "it was overdue before the steam showed"
    relit = picture((0, psi(60)), (1, glass(0.5)), (4, Report("fire", "lit"))).water
    assert relit.awaited_since == 60.0


def test_with_the_fire_out_and_the_gauge_at_rest_no_reading_is_wanted() -> None:
    out = ((0, psi(60)), (1, glass(0.5)), (2, Report("fire", "drawn")))
    assert picture(*out).water.interval_s == 900.0, "seldom, while she cools"
    assert picture(*out, (3, psi(0))).water.interval_s is None


def test_out_of_sight_and_doubt_are_told_whatever_is_true_of_the_glass() -> None:
    water = picture(LIT, (2, glass(0.5)), (20, BROKEN), (21, OUT)).water
    assert (water.value, water.out_of_sight, water.readable) == ("glass broken", True, False)
    back = picture(LIT, (20, OUT), (22, glass(0.5)), (23, Report("glass", "stays empty"))).water
    assert (back.value, back.doubted, back.readable) == ("unproved", True, False)
