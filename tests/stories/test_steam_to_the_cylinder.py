"""Regulator, gear, drain cocks and people in the wrong order: the act first, in the same breath."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

from assistant.messages import Grade


def ready_to_move(engine: str = "copper") -> Day:
    return taken_over("tick-over", engine, "pressure eighty")


def stops(said: str) -> bool:
    return "Regulator shut" in said


@pytest.mark.parametrize("engine", ["copper", "fullsize"])
def test_steam_on_with_the_gear_in(engine: str) -> None:
    """Taken over as in gear, and opened before it was out."""
    day = Day(engine, "tick-over")
    day.tell("0:10 water half\n0:20 comes back at once\n0:30 pressure eighty\n1:00 still in gear")
    assert stops(day.reply("regulator open"))
    assert max(day.standing.values()) >= Grade.WARNING
    day.tell("1:30 regulator shut\n1:40 gear is out")
    assert not {n for n in day.standing if "regulator" in n or "gear" in n}


def test_steam_on_with_somebody_near() -> None:
    day = ready_to_move()
    day.tell("1:00 drains open\n1:10 somebody is near")
    assert stops(day.reply("regulator open"))


def test_somebody_comes_near_while_she_turns() -> None:
    """The order of the two reports turned round."""
    day = ready_to_move()
    day.tell(
        "1:00 drains open\n1:10 people are clear\n1:20 reverser is forward\n1:30 regulator open"
    )
    assert stops(day.reply("child by the wheel"))


def test_drains_shut_while_water_still_comes() -> None:
    day = ready_to_move()
    day.tell(
        """
        1:00 drains open
        1:10 people are clear
        1:20 reverser is forward
        1:30 regulator open
        1:40 still water
        """
    )
    said = day.reply("drains shut")
    assert "rain" in said and ("open" in said.lower() or "Drains first" in said), said
    assert day.standing


def test_drains_shut_in_the_morning_and_a_break_in_between() -> None:
    """What was told before the break still holds the cocks shut."""
    day = ready_to_move("fullsize")
    day.tell("1:00 drains shut")
    day.tell("9:00 water half")
    assert stops(day.reply("regulator open"))


def test_the_right_order_is_met_with_no_word_of_blame() -> None:
    day = ready_to_move()
    said = day.tell(
        """
        1:00 drains open
        1:10 people are clear
        1:20 reverser is forward
        1:30 regulator open
        2:30 dry steam now
        2:40 drains shut
        """
    )
    assert "Warning" not in said and not day.standing


def test_the_pump_turned_over_on_shut_drains() -> None:
    """Neighbour: not tick-over, but turning her for the pump."""
    day = taken_over("pumping", "copper", "pressure eighty")
    day.tell("1:00 water half\n1:10 tank full\n1:20 drain cocks shut")
    assert stops(day.reply("regulator open"))
