"""A glass that rises with no feed on, by more than heat lifts it: a cock was left shut."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

NAME = "glass rises by itself"
CLIMBS = """
4:00 water half
4:10 pressure seventy
6:00 water half
7:30 water two thirds
8:30 water three quarters
8:40 pressure seventy
9:30 water seven eighths
10:30 water seven eighths
"""


def standing() -> Day:
    return taken_over("standing by", "copper", pressure="pressure seventy", fire="fire is bright")


def test_half_to_seven_eighths_unfed_is_no_level() -> None:
    day = standing()
    said = day.tell(CLIMBS)
    assert "Warning. Doubt the glass. Both cocks open, blow through." in said
    assert "upper mark" not in said, "a high level is not believed either"
    assert "Doubt the glass" in day.reply("what next")


def test_it_is_told_that_it_came_back_and_then_called_anew() -> None:
    day = standing()
    day.tell(CLIMBS)
    said = day.tell("11:00 comes back at once\n11:10")
    assert NAME not in day.standing
    assert "Where is the water?" in said
    later = day.tell(
        "11:20 water three eighths\n12:30 water three eighths\n14:00 water three eighths"
    )
    assert "leak" not in later, "the false level was none to have fallen from"


def test_a_routine_blow_through_that_leaves_the_cock_shut_counts_for_nothing() -> None:
    """It came back, and then it climbs: what it showed before is still to be compared."""
    day = standing()
    said = day.tell(
        CLIMBS.replace("6:00 water half\n", "6:00 water half\n6:30 comes back at once\n")
    )
    assert "Doubt the glass" in said


def test_full_and_proved_to_be_half_is_no_leak() -> None:
    """The glass was full and was blown through: what it showed before counts no more."""
    day = standing()
    day.tell("2:00 water full\n2:30 water full")
    assert "Glass full, or empty?" in day.heard
    asked = day.tell("3:00 comes back at once\n3:10")
    assert "Where is the water?" in asked and "glass full" not in day.standing
    day.tell("3:30 water half\n3:40 yes")
    said = day.tell("4:00 water half\n6:00 water half\n8:00 water half\n8:10")
    assert "leak" not in said and "water falling faster than use" not in day.standing


@pytest.mark.parametrize(
    "why", ["5:50 feed running", "6:40 regulator open", "6:40 valve lifting", "6:40 priming"]
)
def test_what_lifts_or_feeds_the_water_explains_it(why: str) -> None:
    day = standing()
    said = day.tell(
        CLIMBS.replace("6:00 water half\n", f"{why}\n7:00 water half\n")
        if why.startswith("5")
        else CLIMBS.replace("7:30 water two thirds\n", f"{why}\n7:30 water two thirds\n").replace(
            "9:30 water seven eighths\n10:30 water seven eighths\n", ""
        )
    )
    assert "Doubt the glass" not in said


def test_an_eighth_more_is_the_calling() -> None:
    day = standing()
    said = day.tell(
        "4:00 water half\n6:00 water half\n7:30 water five eighths\n9:00 water five eighths"
    )
    assert "Doubt the glass" not in said


def test_one_look_that_is_far_too_high_was_misread() -> None:
    day = standing()
    said = day.tell("4:00 water half\n6:00 water half\n7:30 water seven eighths\n9:00 water half")
    assert "Doubt the glass" not in said


def test_the_first_warming_lifts_it_far() -> None:
    """From cold to forty pounds the water of this boiler swells by a quarter of the glass."""
    day = Day("copper")
    said = day.tell("0:10 water half\n0:20 pressure zero\n0:40 comes back at once\n1:00 fire lit")
    said += day.tell("10:00 water five eighths\n14:00 water five eighths\n18:00 water two thirds")
    said += day.tell("19:00 pressure twenty\n22:00 water three quarters\n23:00 pressure forty")
    said += day.tell("25:00 water three quarters\n26:00")
    assert "Doubt the glass" not in said


def test_far_up_as_the_regulator_is_opened_is_swell_and_to_be_read_again() -> None:
    day = taken_over("tick-over", "fullsize", pressure="pressure one twenty", fire="fire is bright")
    day.tell("1:00 water a third\n1:30 everyone is clear\n1:40 drains open\n2:20 regulator open")
    said = day.tell("3:00 water three quarters\n3:05")
    assert "Steam drawn swells the water. Read it again when she stands." in said
    assert "Doubt the glass" not in said


def test_a_little_up_as_it_is_opened_is_not_spoken_of() -> None:
    day = taken_over("tick-over", "fullsize", pressure="pressure one twenty", fire="fire is bright")
    day.tell("1:00 water half\n1:30 everyone is clear\n1:40 drains open\n2:20 regulator open")
    assert "swell" not in day.tell("3:00 water five eighths\n3:05")
