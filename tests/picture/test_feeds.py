"""A feed is proved by a gain of the glass beyond expansion, and by nothing else."""

from __future__ import annotations

from dataclasses import replace

import pytest
from picture_story import OUT, PRACTICE, glass, picture, psi

from assistant.boiler.figures import Engine
from assistant.messages import Report
from assistant.picture.feeds import Feed
from assistant.picture.picture import Picture

# The pump of the practice engine gives 0.057 of the glass in a minute: a calling step of an eighth
# is told after 2.2 minutes.
HAND = replace(PRACTICE, options=frozenset({"hand pump"}), pump_m3_per_s=None)
BOTH = replace(PRACTICE, options=frozenset({"hand pump", "injector"}), pump_m3_per_s=None)
ON, OFF = Report("bypass", "shut"), Report("bypass", "open")
FED, STOPPED = Report("feed", "on"), Report("feed", "off")


def pump(*told: tuple[float, Report], minute: float | None = None, **known: object) -> Feed:
    return picture(*told, minute=minute, **known).feeds.by_name["pump"]


def hand(*told: tuple[float, Report], engine: Engine = HAND, **known: object) -> Feed:
    return picture(*told, engine=engine, **known).feeds.by_name["hand pump"]


def test_the_engine_file_names_the_feeds_and_none_is_tried_at_first() -> None:
    feeds = picture((0, glass(0.5))).feeds
    assert list(feeds.by_name) == ["pump", "hand pump"]
    assert feeds.values("untried") == ("pump", "hand pump")
    assert (feeds.working, feeds.none_works, feeds.running_since) == (None, False, None)


def test_a_feed_that_runs_is_not_yet_told() -> None:
    feed = pump((0, glass(0.5)), (1, ON), minute=2)
    assert (feed.value, feed.running_since, feed.proof) == ("running", 60.0, None)
    assert feed.look_again_s == pytest.approx(0.125 / (1.6 / 28) * 60.0 - 60.0)
    early = pump((0, glass(0.5)), (1, ON), (2, glass(0.5)))
    assert (early.value, early.proof) == ("running", "not yet")


def test_a_gain_of_half_of_what_was_expected_proves_it() -> None:
    feed = pump((0, glass(0.5)), (1, ON), (6, glass(0.75)), (7, OFF), minute=8)
    assert (feed.value, feed.running_since) == ("proved today", None)
    assert feed.witnesses == ("water 0.50 then 0.75 in 360 s, 2 min ago",)
    assert picture((0, glass(0.5)), (1, ON), (6, glass(0.75))).proves("feed proved")


def test_less_than_half_of_what_was_expected_is_no() -> None:
    feed = pump((0, glass(0.5)), (1, ON), (8, glass(0.625)))
    assert (feed.value, feed.proof, feed.look_again_s) == ("failed", "no", None)


def test_equal_readings_that_long_apart_are_no_though_an_earlier_pair_said_yes() -> None:
    day = ((0, glass(0.5)), (1, ON), (6, glass(0.75)))
    assert pump(*day, (7, glass(0.75))).value == "proved today"
    feed = pump(*day, (9, glass(0.75)))
    assert (feed.value, feed.proof) == ("failed", "no")


def test_a_gain_that_is_expansion_proves_nothing() -> None:
    day = ((0, glass(0.5)), (1, ON), (6, glass(0.75)))
    swelling = pump(*day, expansion=lambda t0, t1: 0.25)
    assert swelling.value == "failed"
    assert pump(*day, expansion=lambda t0, t1: None).proof == "not yet"


def test_use_is_taken_off_what_is_expected() -> None:
    day = ((0, glass(0.5)), (1, ON), (6, glass(0.5)))
    feed = pump(*day, use=lambda t0, t1: 0.25 * (t1 - t0) / 300.0)
    assert (feed.value, feed.proof) == ("running", "not yet")


def test_a_level_that_swells_under_a_lifting_valve_proves_nothing() -> None:
    lifts = (2, Report("valve", "lifting"))
    swollen = ((0, glass(0.5)), (1, ON), lifts, (6, glass(0.75)))
    assert pump(*swollen).proof == "not yet"
    feathers = (2, Report("valve", "feathering"))
    assert pump((0, glass(0.5)), (1, ON), feathers, (6, glass(0.75))).proof == "yes"
    assert pump(lifts, (8, glass(0.5)), (9, ON), (14, glass(0.75))).proof == "yes", "shut by then"


def test_an_adjective_proves_nothing_and_never_beats_two_readings() -> None:
    gaining = Report("delivery", "cool and gaining")
    said = pump((0, glass(0.5)), (1, ON), (2, gaining), (2.5, OFF))
    assert (said.value, said.witnesses) == ("taken", ("delivery cool and gaining, now",))
    beaten = pump((0, glass(0.5)), (1, ON), (6, glass(0.5)), (7, gaining))
    assert beaten.value == "failed"


@pytest.mark.parametrize(
    "word",
    [Report("delivery", "gives no gain"), Report("pipe", "hot"), Report("cure", "pump_trouble")],
)
def test_a_word_of_failure_is_a_failure(word: Report) -> None:
    picture_ = picture((0, glass(0.5)), (1, ON), (2, word))
    assert picture_.feeds.by_name["pump"].value == "failed"
    assert (picture_.feeds.none_works, picture_.feeds.working) == (True, None)


def test_cured_by_word_is_taken_again_and_a_gain_ends_any_failure() -> None:
    failed = ((0, glass(0.5)), (1, ON), (2, Report("cure", "pump_trouble")))
    assert pump(*failed, (3, OFF), (3, Report("pump trouble", "cured"))).value == "taken"
    assert pump(*failed, (3, Report("pump trouble", "still there"))).value == "failed"
    assert pump(*failed, (6, glass(0.75))).value == "proved today"


def test_without_a_delivery_a_step_proves_and_four_minutes_without_gain_do_not() -> None:
    assert hand((0, glass(0.5)), (1, FED), (3, glass(0.625))).value == "proved today"
    assert hand((0, glass(0.5)), (1, FED), (3, glass(0.5))).proof == "not yet"
    assert hand((0, glass(0.5)), (1, FED), (5, glass(0.5))).value == "failed"
    assert hand((0, glass(0.5)), (1, FED), minute=3).look_again_s == 120.0


def test_works_and_fails_name_their_feed() -> None:
    told = picture(
        (1, Report("hand pump", "fails")), (2, Report("injector", "works")), engine=BOTH
    ).feeds
    assert (told.by_name["hand pump"].value, told.by_name["injector"].value) == ("failed", "taken")
    assert (told.working, told.none_works) == ("injector", False)
    ran = picture((2, Report("injector", "works")), (3, FED), engine=BOTH).feeds
    assert ran.by_name["injector"].running_since == 180.0, "feed on is the one last named"


def test_every_feed_that_was_tried_has_failed() -> None:
    feeds = picture((1, Report("hand pump", "fails"))).feeds
    assert (feeds.none_works, feeds.working) == (True, None)
    assert feeds.values("untried") == ("pump",)


def test_a_geared_pump_stands_with_the_engine() -> None:
    shut, opened = Report("regulator", "shut"), Report("regulator", "open")
    assert pump((1, opened), (2, ON), (4, shut)).running_since is None
    assert pump((1, opened), (2, ON), (4, shut), (9, opened)).running_since == 540.0
    standing = picture((1, shut), (2, FED)).feeds
    assert standing.by_name["hand pump"].running_since == 120.0, "the engine turns no pump"


def test_nothing_is_told_from_across_water_out_of_sight() -> None:
    assert pump((0, glass(0.5)), (1, ON), (4, OUT), (6, glass(0.75))).proof is None


def test_after_a_long_break_no_run_and_no_success_is_known_but_a_failure_is() -> None:
    broken = {"breaks": ((600.0, 1800.0),), "minute": 40.0}
    day: tuple[tuple[float, Report], ...] = ((0, glass(0.5)), (1, ON), (6, glass(0.75)))
    after: Picture = picture(*day, **broken)  # type: ignore[arg-type]
    assert after.feeds.values("untried") == ("pump", "hand pump")
    assert after.feeds.running_since is None
    failed: Picture = picture(*day, (9, glass(0.75)), **broken)  # type: ignore[arg-type]
    assert failed.feeds.by_name["pump"].value == "failed"


def test_by_what_a_feed_failed_and_that_a_gain_counts_anew_after_it() -> None:
    on = ((0, glass(0.5)), (0, Report("bypass", "shut")))
    none = picture(*on, (4, glass(0.5))).feeds.by_name["pump"]
    assert (none.value, none.failed_by) == ("failed", "no gain")
    word = picture((0, Report("hand pump", "fails"))).feeds.by_name["hand pump"]
    assert (word.value, word.failed_by) == ("failed", "word")
    again = picture(*on, (4, glass(0.5)), (8, glass(0.75))).feeds.by_name["pump"]
    assert (again.value, again.failed_by) == ("proved today", "")


def test_an_injector_below_its_own_pressure_has_not_failed() -> None:
    failed = Report("injector", "fails")
    engine = replace(PRACTICE, injector_from_gauge_pa=60 * 6894.76)
    low = picture((0, psi(40)), (1, failed), engine=engine).feeds
    assert not low.values("failed")
    assert picture((0, psi(70)), (1, failed), engine=engine).feeds.values("failed") == ("injector",)
