"""A plug, a tube or a leak in the firebox was called: called over is not looked at."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over


def called(words: str) -> Day:
    """At the boiling, standing by with a bright fire; then this is called."""
    day = taken_over("standing by", pressure="pressure ninety")
    day.tell(f"1:00 drains open\n1:10 damper nearly shut\n1:20 i will watch her\n2:00 {words}")
    return day


FAILED = [
    "the plug has blown", "tube has burst", "water in the firebox", "the crown is red",
    "engine is over",
]  # fmt: skip


@pytest.mark.parametrize("words", FAILED)
def test_the_danger_called_over_is_answered_by_what_stands(words: str) -> None:
    said = called(words).tell("2:10 fire drawn\n2:20 danger is over").splitlines()
    assert said[-2:] == [
        "Warning. Not to be steamed. Put her away.",
        "Once cold and examined, say: boiler has been looked at.",
    ]


@pytest.mark.parametrize("words", FAILED)
def test_with_the_fire_in_it_is_over_by_no_word(words: str) -> None:
    day = called(words)
    said = day.tell("2:20 danger is over").splitlines()
    assert said[-2:] == [
        "Danger. Not to be steamed. Stop the heat.",
        "Heard. Fire in a boiler not to be steamed still stands.",
    ]
    day.tell("3:00 blower open\n4:00 damper shut")
    assert "heat in an unfit boiler" in day.dangers, "the blower draws"
    day.tell("4:10 blower shut")
    assert "heat in an unfit boiler" not in day.standing
    assert "not to be steamed" in day.standing


def test_a_fire_that_is_bright_again_is_that_danger() -> None:
    day = called("the crown is red")
    day.tell("2:10 fire drawn\n2:20 danger is over")
    assert not day.dangers
    assert "Danger. Not to be steamed. Stop the heat." in day.reply("fire is bright", 60.0)
    day.tell("4:00 fire is banked")
    assert "heat in an unfit boiler" in day.dangers, "banked is in"


@pytest.mark.parametrize("words", FAILED)
def test_neither_steam_nor_fire_nor_feed_until_then(words: str) -> None:
    day = called(words)
    said = day.tell(
        "2:20 danger is over\n2:40 raising steam\n3:00 water half\n3:10 pressure ninety"
    )
    assert day.phase == "standing by"
    assert "Not steamed until looked at, cold. Then say: boiler has been looked at." in said
    assert "wanted pressure" not in said, "no minutes"
    said = day.tell("4:00 coal on the fire")
    assert "Danger. No fire, no steam. Boiler not looked at." in said
    said = day.tell("4:30 feed running")
    assert "Danger. Stop the feed." in said


def test_draught_put_on_is_opposed_at_once() -> None:
    day = called("tube has burst")
    day.tell("2:20 danger is over\n2:30 water half")
    day.tell("2:40 damper shut\n2:50 blower shut")
    assert not day.dangers
    assert "Danger. Not to be steamed. Stop the heat." in day.reply("damper open")


def test_somebody_who_looked_at_her_ends_it() -> None:
    day = called("the plug has blown")
    day.tell("2:20 danger is over\n30:00 fire drawn\n30:10 pressure nothing")
    day.tell("30:20 boiler has been looked at\n30:30 Ann")
    assert "not to be steamed" not in day.standing
    day.tell("40:00 water half\n40:20 fire lit")
    assert "fire after a failure" not in day.standing


def test_she_is_put_away_meanwhile() -> None:
    day = called("the plug has blown")
    day.tell("2:20 danger is over\n2:30 damper shut\n2:35 blower shut\n2:40 putting away")
    assert day.phase == "putting away"
    assert "Not to be steamed" not in day.silence(3.0)


@pytest.mark.parametrize("words", ["steam is escaping", "chimney fire", "someone is hurt"])
def test_what_leaves_the_boiler_whole_is_over_by_the_word(words: str) -> None:
    day = called(words)
    said = day.tell("2:20 danger is over")
    assert said.splitlines()[-1] == "Danger is over."
    day.tell("2:30 water half\n2:40 raising steam")
    assert day.phase == "raising steam"
