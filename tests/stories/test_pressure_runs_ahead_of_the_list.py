"""The gauge goes up past a question that is open, or over the valve's figure in silence."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over


def asked(said: str, *parts: str) -> bool:
    return any(part.lower() in said.lower() for part in parts)


VALVE = ("feather", "valve should", "does it lift", "does the valve", "valve lift", "valve blows")


def glass_question_open() -> Day:
    """Copper, works at ninety: nobody answers how the glass returned."""
    day = Day("copper", "raising steam")
    day.tell(
        """
        0:10 water half
        0:30 pressure forty
        0:40 fire is built
        0:50 blower half open
        1:00 damper wide open
        3:00 pressure sixty
        4:10 water half
        """
    )
    return day


def test_the_glass_question_stays_open_and_the_heat_is_taken_off_all_the_same() -> None:
    day = glass_question_open()
    said = day.tell("5:00 pressure eighty\n6:00 pressure eighty five\n6:30")
    assert asked(said, "blower"), said
    said = day.tell("7:00 pressure ninety\n7:20 water half\n8:00 pressure ninety six\n9:00")
    assert asked(said, "damper"), said


def test_past_the_feather_it_is_asked_whether_the_valve_moves_beside_all_that() -> None:
    day = glass_question_open()
    day.tell("5:00 pressure eighty\n6:00 pressure eighty five\n7:00 pressure ninety")
    said = day.tell("7:20 water half\n8:00 pressure ninety six\n10:00")
    assert asked(said, *VALVE), said


def test_dry_steam_is_not_told_and_the_valve_comes_due() -> None:
    """Tick-over with the cylinder still wet: no answer, and the gauge goes past the feather."""
    day = taken_over(
        "tick-over", pressure="pressure one hundred and ten", valve="valve not seen today"
    )
    day.tell(
        """
        1:00 drains open
        1:10 people are clear
        1:20 reverser is forward
        1:30 regulator open
        3:00 pressure one hundred and twenty five
        4:30 water half
        """
    )
    said = day.tell("5:00 pressure one hundred and thirty six\n6:00")
    assert asked(said, *VALVE), said
    said = day.tell("6:30 pressure one hundred and forty six\n7:30")
    assert asked(said, *VALVE), "and again at the lift"


@pytest.mark.parametrize("phase", ["standing by", "putting away", "pumping"])
def test_over_the_lift_with_nothing_told_of_damper_or_valve(phase: str) -> None:
    """Copper feathers at 93, lifts at 100; nobody speaks of damper, blower or valve."""
    day = taken_over(phase, "copper", "pressure eighty five", valve="valve not seen today")
    said = day.tell("1:00 pressure eighty five\n2:30 pressure ninety four\n3:00")
    assert asked(said, *VALVE), said
    said = day.tell(
        "4:00 pressure ninety eight\n4:40 water half\n5:30 pressure one hundred and one\n6:00"
    )
    assert asked(said, *VALVE), said
    said = day.tell("6:30 pressure one hundred and two\n7:00")
    assert day.dangers, "over the lift twice and no valve"
    assert "Stop the heat." in said or "Damper shut" in said


def test_no_to_does_it_lift_is_the_answer_and_takes_nothing_back() -> None:
    day = taken_over("standing by", "copper", "pressure eighty five", valve="valve not seen today")
    day.tell("1:30 pressure ninety four\n3:30 pressure one hundred and one\n3:40 no")
    assert "Taken back" not in day.heard
    assert day.dangers, "over the lift and it does not move: at once"


def test_full_size_over_the_feather_with_the_damper_shut_names_what_may_still_heat_her() -> None:
    day = taken_over(
        "standing by", "fullsize", "pressure one hundred and fifty", valve="valve not seen today"
    )
    day.tell("1:00 damper shut\n2:00 pressure one hundred and sixty")
    said = day.tell(
        "4:00 pressure one hundred and seventy two\n4:30 no\n6:00 pressure one seventy six\n7:00"
    )
    assert asked(said, "blower"), said
    assert asked(said, *VALVE), said


def test_a_valve_that_has_blown_today_with_its_gauge_is_not_asked_for_at_the_feather() -> None:
    """Copper: it feathered at its figure in the morning; the second time only the lift counts."""
    day = taken_over("standing by", "copper", "pressure ninety")
    day.tell(
        "1:00 valve feathering\n1:20 pressure ninety three\n1:40 valve shut\n4:00 pressure eighty"
    )
    said = day.tell("4:30 water half\n6:00 pressure ninety five\n6:40")
    assert not asked(said, "should feather"), said


def test_beside_a_remedy_that_nobody_answers_the_heat_is_taken_off() -> None:
    """Neighbour: the open question belongs to a cure."""
    day = taken_over("raising steam", "copper", "pressure sixty", valve="valve not seen today")
    day.tell("1:00 blower half open\n1:10 damper wide open\n1:30 pump trouble\n3:00 water half")
    said = day.tell("4:00 pressure eighty\n5:30 pressure eighty eight\n6:00")
    assert asked(said, "blower") and asked(said, "damper"), said
