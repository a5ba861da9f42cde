"""A door or a plug of the shell leaks: under steam the fire goes out, and nothing is tightened."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

LET_DIE = (
    "Warning. Let the fire die. Boiler leaks."
    " Never tighten under pressure. Stand clear. Pressure down first."
)
NEVER = "Never tighten under pressure. Stand clear."


def steaming() -> Day:
    day = taken_over("raising steam", "copper", pressure="pressure thirty four")
    day.tell("1:00 water half")
    return day


@pytest.mark.parametrize(
    "words",
    ["hand hole is leaking", "mud door is leaking", "washout plug is leaking", "boiler is leaking"],
)
def test_in_steam_the_fire_is_let_die(words: str) -> None:
    day = steaming()
    assert day.reply(words) == LET_DIE, "and it is not read back a second time"
    assert "boiler leaking" in day.standing


def test_no_minutes_no_list_and_no_steam_are_told_then() -> None:
    day = steaming()
    day.reply("mud door is leaking")
    said = day.tell("1:30 pressure thirty six\n2:00 water half\n3:00")
    assert "wanted pressure" not in said
    assert "Lift the extension" not in said and "does it take" not in said
    assert "minutes" not in day.reply("how long")
    assert "Not steamed until looked at, cold." in day.reply("moving off")


def test_water_is_kept_up() -> None:
    day = steaming()
    day.reply("mud door is leaking")
    assert "Stop the feed" not in day.reply("feed running")


@pytest.mark.parametrize("words", ["tightening the mud door", "tightening the washout plug"])
def test_tightening_under_pressure_is_opposed_at_once(words: str) -> None:
    day = steaming()
    day.reply("mud door is leaking")
    assert day.reply(words) == NEVER


def test_got_worse_it_is_said_again_and_with_the_fire_out_she_is_put_away() -> None:
    day = steaming()
    day.reply("mud door is leaking")
    assert "Let the fire die" in day.reply("leak has got worse", after_s=30.0)
    said = day.tell("3:00 fire drawn\n3:30")
    assert "Warning. Not to be steamed. Put her away." in said


def test_cold_it_is_an_answer_of_the_list_and_may_be_tightened() -> None:
    day = Day()
    said = day.tell("0:30 water half\n1:00 mud door is leaking\n1:30 tightening the mud door\n2:00")
    assert "Warning" not in said and NEVER not in said
    day.tell("3:00 boiler is tight\n20:00 fire lit\n60:00 pressure twenty")
    assert "boiler leaking" not in day.standing


def test_a_valve_that_leaks_is_no_boiler_that_leaks() -> None:
    day = steaming()
    day.reply("safety valve is leaking")
    assert not day.standing.keys() & {"boiler leaking", "not to be steamed"}


def test_where_steam_escapes_nobody_is_sent_to_find_the_leak() -> None:
    day = taken_over("standing by", "copper", pressure="pressure seventy")
    day.tell("1:00 water three quarters\n2:00 steam escaping\n2:30 fire is dropped")
    day.tell("4:00 water five eighths\n6:00 water half\n8:00 water three eighths")
    assert "Find the leak" not in day.heard
