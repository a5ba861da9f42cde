"""A gauge that stops on the way up, over a bright fire with all its air: it is doubted in time."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

from assistant.messages import ForecastMade

NAME = "gauge stands still"
RISING = """
1:00 damper open
1:05 blower open
1:30 pressure thirty
3:00 pressure forty
4:30 pressure fifty
4:40 water half
6:00 pressure sixty
"""
STANDS = """
7:30 pressure sixty
8:40 water half
9:00 pressure sixty
10:30 pressure sixty
12:00 pressure sixty
12:40 water half
13:30 pressure sixty
"""


def rising() -> Day:
    day = taken_over("raising steam", "copper", pressure="pressure twenty", fire="fire is bright")
    day.tell(RISING)
    return day


def test_one_figure_again_and_again_over_a_bright_fire_is_a_warning() -> None:
    day = rising()
    said = day.tell(STANDS)
    assert "Gauge not moving. Tap it. Cock open?" in said
    assert day.times_of("Gauge not moving")[0] <= 60.0 * 12.5
    later = [at for at in day.times_of("to wanted pressure") if at > 60.0 * 12.5]
    assert not later, "no minutes by a needle that does not move"


def test_no_minutes_are_told_and_the_book_says_why() -> None:
    day = rising()
    day.tell(STANDS)
    assert day.reply("how long") == "No time while the gauge does not move."
    made = day.got(ForecastMade)[0]
    assert made.mid is None and made.why == "the gauge does not move"


def test_water_that_rises_meanwhile_tells_of_the_heat() -> None:
    day = rising()
    day.tell(STANDS)
    said = day.tell("14:00 water five eighths\n15:30 pressure sixty\n16:00 water two thirds")
    assert "I cannot tell why" not in said
    assert "Watch the gauge." in said


def test_it_ends_when_the_needle_has_moved() -> None:
    day = rising()
    day.tell(STANDS)
    day.tell("14:30 pressure sixty five")
    assert NAME in day.standing, "one step is no movement"
    day.tell("15:00 pressure eighty")
    assert NAME not in day.standing


def test_it_ends_when_the_draught_is_taken_off() -> None:
    day = rising()
    day.tell(STANDS)
    day.tell("14:00 damper shut")
    assert NAME not in day.standing


@pytest.mark.parametrize(
    "held",
    [
        "6:10 blower shut",
        "6:10 damper shut",
        "6:10 coal on",
        "6:10 fire banked",
        "6:10 regulator open",
        "6:10 feed running",
        "6:10 valve feathering",
    ],
)
def test_a_pressure_that_something_holds_is_not_a_gauge_that_stands(held: str) -> None:
    day = rising()
    said = day.tell(held + STANDS)
    assert "Gauge not moving" not in said and NAME not in day.standing


def test_a_draught_that_was_never_told_proves_nothing() -> None:
    day = taken_over("raising steam", "copper", pressure="pressure sixty", fire="fire is bright")
    said = day.tell(STANDS)
    assert "Gauge not moving" not in said
