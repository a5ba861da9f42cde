"""A pump that the engine turns gives nothing while she stands."""

from __future__ import annotations

from day_story import taken_over

STANDS = "She stands: that pump does not turn."


def test_the_bypass_shut_on_a_standing_engine_feeds_nothing() -> None:
    day = taken_over("standing by", pressure="pressure one hundred")
    day.tell("1:00 water half")
    said = day.reply("bypass shut", 20.0)
    assert f"{STANDS} Use the hand pump." in said
    assert "Five minutes" not in said


def test_on_an_engine_that_turns_it_tells_what_to_expect() -> None:
    day = taken_over("pumping", pressure="pressure one hundred")
    day.tell("1:00 water half\n1:10 tank is full\n1:20 regulator open")
    said = day.reply("bypass shut", 20.0)
    assert STANDS not in said and "Five minutes" in said


def test_the_hand_pump_needs_no_engine_that_turns() -> None:
    day = taken_over("standing by", pressure="pressure one hundred")
    day.tell("1:00 water half\n1:10 hand pump is working\n1:30")
    assert STANDS not in day.heard
