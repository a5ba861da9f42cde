"""What an alarm rested on answers "why?" while it stands, and no longer."""

from __future__ import annotations

from day_story import taken_over


def test_the_reason_of_an_alarm_that_ended_is_told_no_more() -> None:
    day = taken_over("standing by", "copper", pressure="pressure seventy")
    day.tell("1:00 water half\n1:20 somebody is near\n1:40 regulator open")
    assert "Regulator opened with somebody near." in day.reply("what is the reason", 3.0)
    day.reply("regulator shut", 3.0)
    assert "somebody near" not in day.reply("what is the reason", 3.0)
