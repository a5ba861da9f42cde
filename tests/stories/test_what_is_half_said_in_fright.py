"""Readings among loose words, feeds put on blind, a valve that nobody speaks of, old all-clears."""

from __future__ import annotations

import pytest
from day_story import steaming, taken_over


@pytest.mark.parametrize(
    "words",
    [
        "pump's failing, water a quarter",
        "she is a bit smoky, water a quarter",
        "water an eighth and I'm worried",
        "water an eighth, not good",
        "it's Jim, water quarter",
    ],
)
def test_a_low_level_among_loose_words_is_low(words: str) -> None:
    day = steaming()
    day.tell("1:00 water half, pressure one hundred")
    assert "Danger. Water low. Stop the heat." in day.reply(words, 60.0)


@pytest.mark.parametrize("words", ["no, wrong, water a quarter", "water a quarter, no, not that"])
def test_a_level_that_the_line_takes_back_is_not_taken(words: str) -> None:
    day = steaming()
    day.tell("1:00 water half, pressure one hundred")
    day.reply(words, 60.0)
    assert "low water" not in day.standing


def test_beside_a_doubted_pressure_the_water_of_the_same_line_is_taken() -> None:
    day = steaming()
    day.tell("1:00 water half, pressure one hundred")
    said = day.tell("3:00 pressure sixty, water five eighths")
    assert "Water five eighths." in said
    assert "Pressure six zero, sixty: is that right?" in said
    assert "Pressure six zero. Sixty." in day.reply("yes", 5.0)


def test_a_feed_put_on_while_the_water_may_be_gone_is_heard_and_stopped() -> None:
    day = steaming()
    day.tell("1:00 water half, pressure one hundred\n2:00 can't really see the water")
    said = day.tell("2:30 injector on\n3:00")
    assert "Where is the water? Water told low. No firing till it is called." in said
    assert "Stop the feed till the water is seen." in said


def test_no_water_seen_in_the_glass_is_no_water() -> None:
    day = steaming()
    day.tell("1:00 water half")
    assert "No water in sight." in day.reply("can't see any water in the glass", 60.0)
    assert day.dangers == {"water out of sight"}


def test_over_the_lift_a_valve_of_which_nobody_speaks_is_a_danger_in_two_minutes() -> None:
    day = steaming("raising steam", "pressure one thirty")
    day.tell("1:00 water half\n2:00 valve feathering\n3:00 pressure one thirty four")
    day.tell("4:00 valve shut\n8:00 pressure one forty nine, water half\n9:50")
    assert not day.dangers
    assert "Danger. Pressure above the lift. Stop the heat." in day.tell("10:10")
    day.reply("valve lifting", 5.0)
    assert not day.dangers


def test_over_the_lift_and_rising_with_the_valve_lifting_the_draught_is_shut() -> None:
    day = steaming("standing by", "pressure one forty")
    day.tell("1:00 water half, pressure one forty")
    said = day.tell("2:00 valve lifting, pressure one forty eight")
    assert "Warning. Pressure high. Damper shut, blower down." in said


def test_a_regulator_stuck_open_ends_by_being_shut_and_by_no_word() -> None:
    day = steaming("tick-over")
    day.tell("1:00 water half\n2:00 regulator stuck open")
    assert "still stands" in day.reply("danger over", 60.0)
    assert day.dangers == {"regulator is stuck open"}
    day.reply("regulator shut", 60.0)
    assert not day.dangers


def test_a_feed_that_gives_little_is_not_none() -> None:
    day = taken_over("raising steam", "fullsize", "pressure one fifty", "fire is bright")
    day.tell("1:00 water half\n2:00 injector on")
    said = day.tell("5:00 injector off, water five eighths\n6:00")
    assert "No feed works" not in said


def test_people_told_clear_an_hour_ago_are_asked_about_again() -> None:
    day = steaming("tick-over")
    day.tell("1:00 water half\n1:10 everyone is clear\n1:20 drains open")
    for minute in range(4, 61, 4):
        day.tell(f"{minute}:00 water half, pressure one hundred")
    assert "Is everyone clear?" in day.tell("60:10 regulator open")
    soon = steaming("tick-over")
    soon.tell("1:00 water half\n1:10 everyone is clear\n1:20 drains open")
    assert "Is everyone clear?" not in soon.tell("3:00 regulator open")


def test_a_no_with_the_fact_behind_it_is_that_fact() -> None:
    day = steaming("tick-over")
    day.tell("1:00 water half\n3:00 fire's out")
    assert "Fire bright." in day.reply("no, the fire is bright", 60.0)


@pytest.mark.parametrize("words", ["returns smartly", "it comes back quickly", "comes right back"])
def test_a_glass_that_returns_in_other_words_is_proved(words: str) -> None:
    day = steaming()
    day.tell("1:00 water half\n2:00 glass stays empty\n2:30 glass blown through")
    assert "Glass comes back at once." in day.reply(words, 10.0)


def test_a_danger_called_beside_a_gauge_is_never_lost_with_the_loose_words() -> None:
    day = steaming()
    day.tell("1:00 water half")
    assert "Plug has gone: is that right?" in day.reply("plug has gone, oh god, water quarter")
    told = steaming()
    told.tell("1:00 water half")
    assert "Plug has gone: is that right?" in told.reply("Jim says the plug has gone, water half")
    empty = steaming()
    empty.tell("1:00 water half")
    said = empty.reply("the glass looks empty, pressure one hundred", 60.0)
    assert "No water in sight: is that right?" in said


def test_what_is_followed_beside_a_gauge_counts_with_it() -> None:
    day = steaming()
    day.tell("1:00 water half, pressure one forty")
    said = day.reply("valve feathering, bit of a mess, water five eighths", 60.0)
    assert "Safety valve feathering." in said
    assert "Water five eighths." in said


def test_a_trouble_said_twice_in_one_line_is_that_trouble() -> None:
    day = steaming("tick-over")
    day.tell("1:00 water half")
    assert "Drain cocks open." in day.reply("priming, water from the chimney")
