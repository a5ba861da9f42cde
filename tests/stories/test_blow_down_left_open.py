"""A blow-down that is known to be open, while no more water may go."""

from __future__ import annotations

from day_story import taken_over

NOW = "Shut the blow-down now."


def test_near_the_lower_mark_it_is_shut_now() -> None:
    day = taken_over("standing by", "copper", pressure="pressure seventy")
    day.tell("1:00 water half\n2:00 blow down open")
    assert "Count, shut it, then call the water." in day.heard
    day.tell("2:40 water a third\n3:20 water just over a quarter\n3:40")
    assert NOW in day.heard


def test_with_the_glass_full_or_empty_it_is_shut_now_and_no_blower_is_wanted() -> None:
    day = taken_over("standing by", "copper", pressure="pressure eighty five")
    day.tell("1:00 water half\n2:00 water full\n2:05 yes")
    assert NOW in day.reply("blow down open", 10.0) + day.silence(0.5)
    mark = len(day.came)
    day.tell("4:00 pressure eighty\n6:00 pressure seventy two")
    assert "Blower on" not in day.heard_since(mark)


def test_out_of_sight_with_it_open_that_act_comes_first() -> None:
    day = taken_over("standing by", "copper", pressure="pressure seventy")
    day.tell("1:00 water half\n2:00 blow down open\n3:00 no water in sight")
    assert "Shut the blow-down, if you can reach it. Damper shut" in day.heard
    assert "Shut the blow-down" in day.reply("what next")
    day.reply("blow down shut")
    assert "Shut the blow-down" not in day.reply("what next")


def test_well_up_in_the_glass_it_is_counted() -> None:
    day = taken_over("standing by", "copper", pressure="pressure seventy")
    day.tell("1:00 water three quarters\n2:00 blow down open\n2:30")
    assert NOW not in day.heard
