"""Over heat the glass is blown through and stays empty: the water may be below it."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

NAME = "glass stays empty"
DANGER = "Danger. Glass empty. Stop the heat."
EMPTY = "4:00 water half\n4:10 pressure eighty\n6:00 glass stays empty\n"


def standing() -> Day:
    return taken_over("standing by", "copper", pressure="pressure eighty", fire="fire is bright")


def test_the_heat_is_stopped_at_once_and_nothing_is_fed() -> None:
    said = standing().tell(EMPTY + "6:05")
    assert f"{DANGER} Damper shut. No feed. Touch no steam valve." in said
    assert "Glass not proved" not in said, "one voice for one trouble"


@pytest.mark.parametrize("heat", ["coal on the fire", "blower open", "damper open"])
def test_more_heat_is_opposed(heat: str) -> None:
    day = standing()
    day.tell(EMPTY + "7:00")
    assert DANGER in day.reply(heat, after_s=35.0)


def test_no_feed_is_advised_while_it_is_empty() -> None:
    day = standing()
    day.tell(EMPTY + "8:00 coal on the fire\n8:10 blower open\n9:00 pressure ninety")
    day.tell("11:00 pressure ninety eight\n14:00")
    assert "Danger. Glass empty. Stop the heat." in day.heard
    assert "Feed if" not in day.heard


def test_the_level_called_before_is_told_to_nobody() -> None:
    day = standing()
    day.tell(EMPTY + "8:00")
    told = day.reply("Ann has the watch")
    assert "Level unknown." in told and "Water half" not in told
    where = day.reply("where are we")
    assert "Level unknown." in where and "Water half" not in where


def test_a_level_called_without_a_proof_does_not_end_it() -> None:
    day = standing()
    day.tell(EMPTY + "7:00 water half\n8:00 water half")
    assert NAME in day.dangers


def test_it_ends_when_the_glass_is_back_and_the_water_called() -> None:
    day = standing()
    day.tell(EMPTY + "7:00 comes back at once")
    assert NAME in day.dangers
    assert "Danger. Level unknown. Where is the water?" in day.tell("7:40")
    day.tell("8:00 water half")
    assert NAME not in day.standing and not day.dangers
    assert "Water half" in day.reply("where are we")


def test_no_water_in_sight_takes_its_place() -> None:
    day = standing()
    said = day.tell(EMPTY + "7:00 no water in sight\n7:05")
    assert "No water in sight." in said
    assert day.dangers == {"water out of sight"}


def test_with_the_heat_stopped_it_is_to_be_blown_through_again() -> None:
    day = standing()
    day.tell(EMPTY + "7:00 damper shut\n7:10 blower shut")
    said = day.reply("what next")
    assert "Danger. Glass empty. No feed, blow through." in said


def test_at_work_she_is_stopped_first() -> None:
    day = standing()
    day.tell("4:00 water half\n4:10 pressure eighty\n5:00 regulator open")
    said = day.tell("6:00 glass stays empty\n6:05")
    assert "Stop her gently, regulator shut. Damper shut. No feed. Touch no other steam" in said


@pytest.mark.parametrize("words", ["glass comes back slowly", "comes back at once"])
def test_a_glass_that_is_not_empty_is_no_such_danger(words: str) -> None:
    day = standing()
    day.tell(f"4:00 water half\n4:10 pressure eighty\n6:00 {words}\n6:10")
    assert NAME not in day.standing


def test_without_heat_it_is_none() -> None:
    day = Day("copper")
    day.tell("0:20 that's right\n1:00 glass stays empty\n2:00")
    assert NAME not in day.standing
