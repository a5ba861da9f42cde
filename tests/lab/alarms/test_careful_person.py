"""The careful person's rules: from which report on each trouble can be known."""

from __future__ import annotations

from assistant.config.engine_file import find_engine
from assistant.lab.alarms import careful_person as known
from assistant.lab.alarms.called import Called
from assistant.messages import Report

ENGINE = find_engine("practice").engine
LIFTS_PSI = round(ENGINE.valve_lifts_gauge_pa / 6894.757)


def called(*reports: tuple[float, str, str | float]) -> Called:
    """Minutes, of what, and the value."""
    units = {"pressure": "psi", "water": "glass", "tank": "tank"}
    return Called(
        ENGINE,
        [(60.0 * at, Report(what, value, units.get(what, ""))) for at, what, value in reports],
    )


def test_a_feed_without_gain_shows_once_the_gain_should_be_seen() -> None:
    fed = (0.0, "water", 0.5), (0.0, "feed", "on"), (0.0, "bypass", "shut")
    assert known.feed_gives_little(called(*fed, (1.0, "water", 0.5))) == []
    assert known.feed_gives_little(called(*fed, (15.0, "water", 0.5))) == [900.0]
    assert known.feed_gives_little(called(*fed, (15.0, "water", 0.9))) == []


def test_a_glass_that_stands_shows_only_under_feed() -> None:
    three = (0.0, "water", 0.5), (8.0, "water", 0.5), (16.0, "water", 0.5)
    assert known.glass_still(called(*three)) == []
    assert known.glass_still(called((0.0, "feed", "on"), *three)) == [960.0]


def test_a_glass_that_climbs_unfed_shows() -> None:
    steady = (0.0, "pressure", 90.0), (9.9, "pressure", 95.0)
    rising = (0.1, "water", 0.5), (10.0, "water", 0.8)
    assert known.glass_climbs(called(steady[0], rising[0], steady[1], rising[1])) == [600.0]
    fed = (0.05, "feed", "on")
    assert known.glass_climbs(called(steady[0], fed, rising[0], steady[1], rising[1])) == []


def test_lost_water_shows_when_steam_cannot_have_taken_it() -> None:
    falls = called((0.0, "water", 0.75), (5.0, "water", 0.4))
    assert known.water_lost(falls) == [300.0]
    blows = called((0.0, "valve", "lifting"), (0.1, "water", 0.75), (20.0, "water", 0.6))
    assert known.water_lost(blows) == []


def test_a_dead_gauge_shows_when_the_valve_moves() -> None:
    rests = called((0.0, "pressure", 0.0), (1.0, "valve", "lifting"))
    assert known.gauge_dead(rests) == [60.0]
    assert known.gauge_dead(called((0.0, "pressure", 100.0), (1.0, "valve", "lifting"))) == []


def test_a_valve_that_goes_early_shows_by_the_gauge_beside_it() -> None:
    early = called((0.0, "pressure", 0.7 * LIFTS_PSI), (1.0, "valve", "lifting"))
    assert known.valve_early(0.93)(early) == [60.0]
    just_under = called((0.0, "pressure", 0.9 * LIFTS_PSI), (1.0, "valve", "lifting"))
    assert known.valve_early(0.93)(just_under) == [60.0]
    long_ago = called((0.0, "pressure", 0.7 * LIFTS_PSI), (5.0, "valve", "lifting"))
    assert known.valve_early(0.93)(long_ago) == []


def test_a_valve_is_overdue_above_the_lift_unless_it_lifts() -> None:
    over = (1.0, "pressure", 1.05 * LIFTS_PSI)
    assert known.valve_overdue(called(over)) == [60.0]
    assert known.valve_overdue(called((0.5, "valve", "lifting"), over)) == []


def test_a_dying_fire_shows_by_three_falling_readings() -> None:
    falls = (0.0, "pressure", 100.0), (4.0, "pressure", 95.0), (8.0, "pressure", 85.0)
    assert known.pressure_falls(called(*falls)) == [480.0]
    assert known.pressure_falls(called((0.0, "regulator", "open"), *falls)) == []


def test_a_stuck_damper_shows_by_a_rise_with_the_draught_shut() -> None:
    shut = (0.0, "damper", "shut"), (0.5, "pressure", 60.0)
    assert known.rises_with_draught_shut(called(*shut, (7.0, "pressure", 80.0))) == [420.0]
    blown = (0.2, "blower", "open")
    assert known.rises_with_draught_shut(called(*shut, blown, (7.0, "pressure", 80.0))) == []


def test_a_fire_too_strong_shows_by_two_lifts_with_the_damper_eased() -> None:
    eased = (0.0, "damper", "crack")
    lifts = (1.0, "valve", "lifting"), (2.0, "valve", "shut"), (8.0, "valve", "lifting")
    assert known.lifts_again(called(eased, *lifts)) == [480.0]
    assert known.lifts_again(called((0.0, "damper", "open"), *lifts)) == []
    assert known.lifts_again(called(eased, (0.0, "blower", "half"), *lifts)) == []


def test_a_stuck_damper_shows_by_two_lifts_close_together_after_it_was_shut() -> None:
    def twice(first: float, then: float) -> list[float]:
        shut = (0.0, "damper", "shut")
        lifts = (first, "valve", "lifting"), (then, "valve", "lifting")
        return known.lifts_with_damper_shut(called(shut, *lifts))

    assert twice(2.5, 5.0) == [300.0]
    assert twice(1.5, 5.0) == [], "the fire had not yet felt it"
    assert twice(2.5, 9.0) == [], "what was in the fire lifts it once more"


def test_what_stands_in_the_log_half_an_hour_is_still_in_mind() -> None:
    slowly = tuple((10.0 + minute, "water", 0.5 + minute / 100.0) for minute in range(31))
    steady = (9.0, "pressure", 100.0)
    assert known.glass_climbs(called(steady, *slowly))[0] == 60.0 * 35.0


def test_what_steam_takes_is_counted_for_as_long_as_it_is_called() -> None:
    lifts = called((0.0, "valve", "lifting"), (2.0, "valve", "feathering"), (9.0, "valve", "shut"))
    assert lifts.seconds_of("valve", "lifting", 60.0, 600.0) == 60.0
    assert lifts.seconds_of("valve", "feathering", 0.0, 600.0) == 420.0
    standing, blowing = called().use(0.0, 600.0), called((0.0, "valve", "lifting")).use(0.0, 600.0)
    assert 0.0 < standing < 0.1
    assert blowing > 0.3
