"""She ran away and stands again: the water first, then brake and chocks, then the gear."""

from __future__ import annotations

from day_story import Day, taken_over

CHOCKS, GEAR = "Brake on, wheels chocked both ways?", "Out of gear?"


def ran_away() -> Day:
    day = taken_over("standing by", pressure="pressure ninety")
    day.tell("1:00 drains open\n1:10 damper nearly shut\n1:20 i will watch her\n2:00 water half")
    day.tell("3:00 she is running away")
    return day


def test_over_the_water_is_asked_first_and_no_list() -> None:
    day = ran_away()
    said = day.tell("4:00 danger is over")
    assert said.splitlines()[-2:] == ["Danger is over.", "Where is the water?"]
    assert "Feed" not in day.silence(1.0)
    assert "Where is the water?" in day.reply("what next")


def test_then_how_she_stands() -> None:
    day = ran_away()
    day.tell("4:00 danger is over")
    assert CHOCKS in day.reply("water half")
    assert GEAR in day.reply("brake on and chocked")
    day.reply("out of gear")
    day.tell("6:00 water half\n6:10 pressure ninety")
    said = day.silence(3.0)
    assert CHOCKS not in said and GEAR not in said


def test_a_bare_yes_or_no_answers_it() -> None:
    day = ran_away()
    day.tell("4:00 danger is over\n4:10 water half")
    assert "not chocked" in day.reply("no").lower()
    assert CHOCKS in day.silence(3.0), "not chocked is not chocked"
    day.tell("9:00 brake on and chocked")
    assert "Gear out." in day.reply("yes")


def test_moved_on_purpose_it_is_over() -> None:
    day = ran_away()
    day.tell("4:00 danger is over\n4:10 water half\n4:20 moving off")
    assert day.phase == "tick-over"
    assert CHOCKS not in day.silence(3.0)


def test_after_another_danger_nothing_of_it_is_asked() -> None:
    day = taken_over("standing by", pressure="pressure ninety")
    day.tell("2:00 water half\n3:00 chimney fire")
    said = day.tell("4:00 danger is over\n4:30")
    assert CHOCKS not in said and "Where is the water?" not in said
