"""An engine at work takes water: a level that stands all the while, unfed, is not believed."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

NAME = "glass motionless"
SAID = "Warning. Glass not moving. Blow it through."


def working(damper: str = "damper half open", begin: str = "") -> Day:
    """At work, the water called half every three minutes and the gauge standing."""
    day = taken_over("standing by", "copper", pressure="pressure eighty", fire="fire is bright")
    day.tell(f"4:00 water half\n4:10 pressure eighty\n4:20 {damper}\n4:40 regulator open\n{begin}")
    return day


def calls(day: Day, until: int, words: str = "", level: str = "water half") -> str:
    lines = [f"{minute}:00 {level}\n{minute}:10 pressure eighty" for minute in range(7, until, 3)]
    return day.tell("\n".join([*lines[:1], words, *lines[1:]]))


def test_half_for_a_quarter_of_an_hour_over_a_fire_with_air_is_no_level() -> None:
    assert SAID in calls(working(), 23)


def test_fresh_coal_shows_it_sooner() -> None:
    assert SAID in calls(working(begin="5:00 coal on the fire"), 17)
    assert SAID not in calls(working(), 14)


@pytest.mark.parametrize("what", ["regulator shut", "damper nearly shut", "fire banked"])
def test_light_use_would_not_show(what: str) -> None:
    assert SAID not in calls(working(begin=f"5:00 {what}"), 23)


def test_a_feed_since_may_have_held_it() -> None:
    assert SAID not in calls(working(), 23, "8:00 feed running\n9:30 feed stopped")


def test_a_pressure_that_falls_says_that_the_fire_makes_little() -> None:
    day = working()
    lines = [
        f"{minute}:00 water half\n{minute}:10 pressure {figure}"
        for minute, figure in ((7, "eighty"), (10, "seventy five"), (13, "seventy"), (16, "sixty"))
    ]
    assert SAID not in day.tell("\n".join(lines))


def test_a_level_called_the_same_again_does_not_end_it() -> None:
    day = working()
    calls(day, 23)
    day.tell("24:00 pressure fifty\n24:20 water half\n24:40 water half")
    assert NAME in day.standing


@pytest.mark.parametrize("end", ["comes back at once", "water three eighths"])
def test_a_blow_through_that_comes_back_or_a_step_ends_it(end: str) -> None:
    day = working()
    calls(day, 23)
    day.tell(f"23:30 {end}")
    assert NAME not in day.standing
