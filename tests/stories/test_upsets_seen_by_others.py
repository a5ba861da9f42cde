"""Upsets in which something else talked on: a cure, a list, a correction, the end of a session."""

from __future__ import annotations

from day_story import Day, taken_over

from assistant.messages import ReadingAccepted


def steaming(people: tuple[str, ...] = ()) -> Day:
    return taken_over("standing by", pressure="pressure ninety", people=people)


def test_a_cure_that_opens_the_damper_is_none_beside_a_danger() -> None:
    day = steaming()
    day.tell("1:00 water half\n2:00 pressure hangs")
    said = day.tell("2:30 no water in sight\n3:40 no better\n4:30 no better\n7:00")
    assert "Danger. Stop the heat. No water in sight." in said
    assert "Damper open" not in said and "Blower on" not in said


def test_a_cure_of_the_glass_goes_on_beside_a_danger() -> None:
    day = steaming()
    said = day.tell("1:00 no water in sight\n3:00 glass trouble\n6:00")
    assert "does it move now?" in said


def test_with_a_child_inside_no_list_moves_her_and_an_open_regulator_is_answered() -> None:
    day = steaming()
    day.tell("1:00 water half\n1:10 moving off again\n2:00 child inside")
    said = day.tell("2:20 regulator open\n6:00")
    assert said.startswith("Warning. Regulator shut, brake on. Child inside.")
    assert "Reverser" not in said
    assert "Danger is over." in day.tell("6:10 danger is over")
    assert "child inside the barrier" not in day.standing


def test_nobody_is_no_name_for_the_night() -> None:
    day = steaming(people=("Ann",))
    day.tell("1:00 water half\n1:10 pressure ninety, damper shut\n1:30 banked for the night")
    said = day.tell("1:50 nobody")
    assert "Somebody must be with her" in said
    assert "stays" not in said
    assert "Ann stays." in day.tell("2:10 Ann")


def test_a_correction_is_doubted_as_any_reading() -> None:
    day = taken_over("standing by", pressure="pressure one hundred")
    day.tell("3:00 damper shut\n4:00 water half\n4:20 pressure one fifty five")
    assert "over-pressure" in day.dangers
    said = day.tell("4:30 wrong five")
    assert "Pressure five: is that right?" in said
    assert [each.report for each in day.got(ReadingAccepted)] == []


def test_no_list_asks_for_water_beside_a_danger_that_forbids_feed() -> None:
    day = steaming()
    day.tell("1:00 water half\n2:00 clack is stuck open")
    assert "Bring the water well up" not in day.tell("3:00 water three eighths\n5:00")


def test_the_last_words_name_the_danger_that_stands() -> None:
    day = steaming()
    day.tell("1:00 water one eighth")
    said = day.tell("2:00 end session")
    assert "low water: stop all the same?" in said
    assert "low water: keep watch" in day.tell("2:10 yes")


def test_an_empty_tank_does_not_hush_that_the_water_was_never_seen() -> None:
    day = Day()
    day.tell("0:20 tank empty\n1:00 fire is lit")
    assert "Fire in, water unseen" in day.heard


def test_what_next_asks_for_no_feed_over_a_broken_glass() -> None:
    day = steaming()
    day.tell("1:00 glass is broken\n1:30 pressure one hundred and sixty\n1:40 that's right")
    said = day.tell("2:00 what next")
    assert "Damper shut" in said
    assert "feed" not in said.lower().replace("no feed", "")
