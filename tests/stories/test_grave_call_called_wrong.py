"""A bare "wrong" just after a grave call: asked about, never silently taken back."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

GRAVE = {
    "plug has gone": "Plug has not gone: is that right?",
    "tube has burst": "Tube has not burst: is that right?",
    "water in the firebox": "No water in the firebox: is that right?",
    "plate is red hot": "No plate is red hot: is that right?",
    "someone is hurt": "Nobody is hurt: is that right?",
}


def called(words: str) -> Day:
    day = taken_over("standing by", pressure="pressure ninety")
    day.tell(f"1:00 drains open\n1:30 water half\n2:00 {words}")
    assert day.dangers
    return day


@pytest.mark.parametrize(("words", "asked"), GRAVE.items())
@pytest.mark.parametrize("no", ["wrong", "no"])
def test_it_is_asked_about_and_stands_meanwhile(words: str, asked: str, no: str) -> None:
    day = called(words)
    dangers = day.dangers
    assert day.reply(no) == asked
    assert day.dangers == dangers


def test_yes_takes_it_back() -> None:
    day = called("plug has gone")
    day.reply("wrong")
    assert "Taken back: plug has gone." in day.reply("yes")
    assert "plug has gone" not in day.dangers
    assert "not to be steamed" not in day.standing


def test_no_leaves_it_standing() -> None:
    day = called("plug has gone")
    day.reply("wrong")
    said = day.reply("no")
    assert said.splitlines()[0] == "Heard. Plug has gone still stands."
    assert "plug has gone" in day.dangers


def test_no_water_in_sight_is_asked_about_too() -> None:
    day = called("someone is hurt")
    day.tell("2:10 danger is over\n3:00 no water in sight\n3:05 correct")
    assert "water out of sight" in day.dangers
    assert day.reply("wrong", after_s=40.0) == "Water is in sight: is that right?"
    assert "water out of sight" in day.dangers
    said = day.reply("yes")
    assert "Taken back: no water in sight." in said and "Where is the water?" in said


def test_another_report_called_wrong_is_taken_back_as_ever() -> None:
    day = called("plug has gone")
    day.reply("damper shut")
    assert "Taken back: damper shut." in day.reply("wrong")
    assert "plug has gone" in day.dangers


def test_the_water_that_was_not_in_sight_stays_so_by_a_no() -> None:
    day = called("someone is hurt")
    day.tell("2:10 danger is over\n3:00 no water in sight\n3:05 correct\n3:40 wrong")
    assert day.reply("no").splitlines()[0] == "Heard. Water out of sight still stands."
    assert "water out of sight" in day.dangers
