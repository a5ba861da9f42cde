"""No plug is examined under steam: that the boiler was looked at counts only of a cold one."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

from assistant.messages import ReadingAccepted, Report

LOOKED_AT = Report("boiler", "looked at")


def failed() -> Day:
    """At eighty pounds, standing by with a bright fire, the plug goes and is called over."""
    day = taken_over("standing by", pressure="pressure eighty")
    day.tell("2:00 the plug has blown\n2:20 danger is over")
    return day


def taken(day: Day) -> bool:
    return any(isinstance(e, ReadingAccepted) and e.report == LOOKED_AT for _, e in day.came)


def test_at_eighty_pounds_it_is_not_taken_and_the_bar_stands() -> None:
    day = failed()
    assert day.reply("boiler has been looked at") == "Not under steam. Cold, then examined."
    assert not taken(day)
    assert "not to be steamed" in day.standing
    day.tell("4:00 water half\n4:10 raising steam")
    assert day.phase == "standing by"


@pytest.mark.parametrize(
    "before",
    [
        "3:00 fire drawn",  # steam in her
        "3:00 pressure nothing",  # the fire in
        "3:00 fire drawn\n3:30 pressure forty",
        "3:00 fire drawn\n3:30 pressure nothing\n4:00 fire lit",
    ],
)
def test_cold_is_the_fire_out_and_the_gauge_at_nothing(before: str) -> None:
    day = failed()
    day.tell(before)
    assert "Not under steam." in day.reply("boiler has been looked at")
    assert "not to be steamed" in day.standing or "fire after a failure" in day.standing


def test_cold_it_is_taken_and_asked_by_whom() -> None:
    day = failed()
    day.tell("3:00 fire drawn\n90:00 pressure nothing")
    assert "By whom?" in day.reply("boiler has been looked at")
    assert taken(day)
    assert "not to be steamed" not in day.standing


def test_left_overnight_she_is_cold_by_herself() -> None:
    day = failed()
    day.tell("3:00 fire drawn")
    day.away(8 * 60.0)
    assert "By whom?" in day.reply("boiler has been looked at")


def test_a_boiler_that_never_failed_is_looked_at_hot_or_cold() -> None:
    day = taken_over("standing by", pressure="pressure eighty")
    assert "Not under steam" not in day.reply("boiler has been looked at")


def test_never_heated_no_gauge_is_asked_for() -> None:
    day = Day()
    day.tell("0:30 water half\n1:00 water in the firebox\n1:30 danger is over")
    assert "By whom?" in day.reply("boiler has been looked at")
