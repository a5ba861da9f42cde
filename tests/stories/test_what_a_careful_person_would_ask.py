"""Gauges that say too little, a blow-down that is forgotten, and heat beside a fast rise."""

from __future__ import annotations

from day_story import Day, taken_over


def test_a_gauge_that_stands_for_twenty_minutes_with_no_word_of_the_draught_is_told() -> None:
    day = taken_over("raising steam", pressure="pressure sixty", fire="fire is bright")
    day.tell("1:00 water half, pressure sixty\n11:00 water half, pressure sixty")
    assert "gauge stands still" not in day.standing
    said = day.tell("21:30 water half, pressure sixty")
    assert "Warning. Gauge not moving. Tap it. Cock open?" in said
    assert "minutes to wanted pressure" not in said
    day.tell("23:00 water half, pressure seventy")
    assert "gauge stands still" not in day.standing


def test_with_the_damper_told_shut_a_gauge_may_stand() -> None:
    day = taken_over("raising steam", pressure="pressure sixty", fire="fire is bright")
    day.tell(
        "0:50 damper shut\n1:00 water half, pressure sixty\n11:00 water half, pressure sixty\n"
        "21:30 water half, pressure sixty\n31:00 water half, pressure sixty"
    )
    assert "gauge stands still" not in day.standing


def test_taken_over_with_a_bright_fire_a_gauge_that_never_leaves_its_pin_is_told() -> None:
    day = taken_over("raising steam", pressure="pressure zero", fire="fire is bright")
    due = day.session.state.told.first_steam_by
    assert due is not None
    for minute in range(4, int(due // 60.0) + 8, 4):
        day.tell(f"{minute}:00 water half, pressure zero")
        early = day.at <= due
        assert ("gauge not moving" in day.standing) is not early
    assert "Gauge not moved yet. Gauge cock open?" in day.heard


def test_a_blow_down_left_open_makes_unread_water_a_danger_after_one_interval() -> None:
    day = taken_over("standing by", pressure="pressure one hundred", fire="fire is bright")
    day.tell("1:00 pressure one hundred, water half\n3:00 blow down is open\n7:30")
    assert day.dangers >= {"water not read"}
    day.reply("water half")
    assert "water not read" not in day.standing
    shut = taken_over("standing by", pressure="pressure one hundred", fire="fire is bright")
    shut.tell("1:00 pressure one hundred, water half\n3:00 blow down is open")
    shut.tell("3:20 blow down is shut\n7:30")
    assert "water not read" not in shut.standing


def test_a_rise_called_every_minute_is_seen_too_fast_and_wants_no_more_heat() -> None:
    day = taken_over("raising steam", pressure="pressure ten", fire="fire is bright")
    said = day.tell(
        "1:00 water half, pressure ten\n2:00 pressure twenty two\n"
        "3:00 pressure thirty four\n4:00 pressure forty six\n5:30"
    )
    assert "Caution. Pressure rising fast. Damper nearly shut." in said
    after = said[said.index("Pressure rising fast") :]
    assert "Blower on" not in after
    assert "Coal now" not in after


def test_a_lift_over_a_low_gauge_stands_until_it_is_said_twice_that_there_was_none() -> None:
    day = taken_over("raising steam", pressure="pressure ninety", fire="fire is bright")
    day.tell("1:00 water half, pressure ninety\n2:00 valve lifting")
    assert day.dangers == {"valve over a dead gauge"}
    assert "The valve did not lift: is that right?" in day.reply("no it isn't")
    assert "still stands" in day.reply("no")
    assert day.dangers == {"valve over a dead gauge"}


def test_a_lift_that_the_gauge_bears_out_is_taken_back_at_once() -> None:
    day: Day = taken_over("raising steam", pressure="pressure one hundred and forty")
    day.tell("1:00 water half, pressure one hundred and forty five\n2:00 valve lifting")
    assert "Taken back: safety valve lifting." in day.reply("wrong")


def test_water_that_grows_to_a_danger_is_told_in_that_event_before_a_new_warning() -> None:
    day = taken_over("standing by", pressure="pressure sixty", fire="fire is bright")
    day.tell("1:00 pressure sixty, water half\n3:00 fire drawn")
    later = day.copied()
    while "water not read" not in later.standing:
        later.until(later.at + 5.0)
    day.until(later.at - 6.0)
    assert "water reading overdue" in day.standing
    day.at = later.at  # no tick between
    day.say("pressure one hundred", after_s=0.0)
    said = day.text()
    assert said.index("Danger. Water not read.") < said.index("Warning. Pressure rises.")
