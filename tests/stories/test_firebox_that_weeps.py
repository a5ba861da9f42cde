"""A plug or a tube end weeps: in steam the fire goes out, cold it is the list's own remark."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

LET_DIE = "Warning. Let the fire die. Firebox weeping. No steam until mended."


def weeping(words: str = "plug is weeping") -> Day:
    day = taken_over("standing by", pressure="pressure ninety")
    day.tell(f"1:00 drains open\n1:10 damper nearly shut\n1:20 i will watch her\n2:00 {words}")
    return day


@pytest.mark.parametrize("words", ["plug is weeping", "tube end weeping", "firebox is weeping"])
def test_in_steam_the_fire_is_let_die(words: str) -> None:
    day = weeping(words)
    assert day.heard.splitlines()[-1] == LET_DIE, "and it is not read back a second time"
    assert "Let the fire die" in day.reply("what next")


def test_she_is_not_steamed_before_she_was_looked_at() -> None:
    day = weeping()
    assert "Not steamed until looked at, cold." in day.reply("raising steam")
    said = day.tell("5:00 fire drawn\n6:00")
    assert "Warning. Not to be steamed. Put her away." in said
    assert "Let the fire die" not in day.silence(6.0)
    assert "Danger. No fire, no steam. Boiler not looked at." in day.reply("fire lit")


def test_water_is_kept_up_meanwhile() -> None:
    day = weeping()
    assert day.reply("feed running").splitlines()[0] == "The feed is running."
    assert not day.dangers


def test_steam_at_a_fire_drawn_before_is_a_boiler_not_to_be_steamed() -> None:
    day = taken_over("standing by", pressure="pressure ninety")
    said = day.tell("1:00 fire drawn\n2:00 plug is weeping")
    assert "Let the fire die" not in said
    assert "Warning. Not to be steamed. Put her away." in said


def test_cold_it_is_the_remark_of_the_list() -> None:
    day = Day()
    said = day.tell("0:30 water half\n1:00 plug is weeping")
    assert "Warning" not in said
    assert not day.standing.keys() & {"firebox weeping", "not to be steamed"}


def test_mended_cold_it_is_over() -> None:
    day = Day()
    day.tell("0:30 water half\n1:00 plug is weeping\n9:00 firebox is dry\n20:00 fire lit")
    assert "Let the fire die" not in day.heard


def test_lit_over_it_all_the_same_is_said() -> None:
    day = Day()
    day.tell("0:30 water half\n1:00 plug is weeping\n20:00 fire lit")
    assert LET_DIE in day.heard


def test_taken_back_it_never_was() -> None:
    day = weeping()
    day.tell("2:10 take that back\n2:15 yes")
    assert "firebox weeping" not in day.standing
    day.tell("2:20 water half\n2:30 raising steam")
    assert day.phase == "raising steam"
