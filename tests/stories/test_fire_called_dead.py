"""A fire called dead: the gauge says otherwise, or he does, and the chimney is capped."""

from __future__ import annotations

from day_story import Day, taken_over


def capped() -> Day:
    day = taken_over("putting away", "fullsize", pressure="pressure seventy", fire="fire is bright")
    day.tell("1:00 drains open\n1:20 water seven eighths\n2:00 fire is down\n2:30 fire is dead")
    day.tell("3:00 chimney is capped\n3:30 no blow down")
    return day


def test_a_pressure_that_climbs_says_that_it_burns() -> None:
    day = capped()
    day.tell("6:00 pressure seventy eight\n8:00 pressure eighty six\n10:00 pressure ninety four")
    day.tell("10:30")
    assert "Pressure rises. Is there fire in her? Cap off the chimney" in day.heard


def test_a_pressure_that_falls_says_nothing() -> None:
    day = capped()
    day.tell("6:00 pressure sixty eight\n8:00 pressure sixty six\n12:00 pressure sixty\n13:00")
    assert "Is there fire" not in day.heard and "Cap off" not in day.heard


def test_told_that_it_burns_under_the_cap_the_cap_comes_off() -> None:
    day = capped()
    assert "Cap off the chimney" in day.reply("fire is still burning", 30.0) + day.silence(0.5)
    mark = len(day.came)
    day.reply("chimney left open")
    day.silence(3.0)
    assert "Cap off" not in day.heard_since(mark)
