"""What the engine's state asks for may not apply today; a reading or a danger is never put off."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

from assistant.messages import ReadingAccepted, Report

WORDS = ("not today", "it is so already", "not on this engine")


def ended_for_the_day(day: Day) -> list[Report]:
    accepted = (e.report for _, e in day.came if isinstance(e, ReadingAccepted))
    return [report for report in accepted if report.what == "not today"]


@pytest.mark.parametrize("words", WORDS)
def test_a_question_of_the_engines_state_ends_for_the_day_and_is_in_the_book(words: str) -> None:
    day = taken_over("raising steam", "practice", "pressure forty")
    day.tell("1:30 water half\n2:00 damper shut\n4:00 water half")
    assert "damper" in day.heard.lower().split("damper shut.")[-1], "it asks for the damper"
    put = [name for name in day.session.state.asked if name == "damper to open"]
    assert put, day.heard
    assert "Not asked again today." in day.reply(words, after_s=2.0)
    assert ended_for_the_day(day) == [Report("not today", "damper to open")]
    mark = len(day.came)
    day.silence(8.0)
    assert "open the damper" not in day.heard_since(mark).lower()


@pytest.mark.parametrize("words", WORDS)
def test_a_reading_is_never_put_off(words: str) -> None:
    day = taken_over("standing by", "practice", "pressure eighty")
    while "water" not in day.session.state.asked:
        day.until(day.at + 5.0)
    said = day.reply(words, after_s=5.0)
    assert "Not that one. Tell me what you see, or what you did." in said
    assert not ended_for_the_day(day)
    assert "Where is the water?" in day.silence(3.0)


@pytest.mark.parametrize("words", WORDS)
def test_a_danger_is_never_put_off(words: str) -> None:
    day = taken_over("standing by", "practice", "pressure eighty")
    day.tell("1:00 no water in sight\n1:10 correct")
    day.reply(words)
    assert "water out of sight" in day.dangers
    assert not ended_for_the_day(day)
    assert "Stop the heat." in day.silence(3.0)


def test_a_step_of_the_list_is_left_out_as_ever() -> None:
    day = taken_over("standing by", "practice", "pressure eighty")
    day.until(60.0)
    assert "Left out:" in day.reply("not today")
    assert not ended_for_the_day(day)


def test_taken_back_it_is_asked_again() -> None:
    day = taken_over("raising steam", "practice", "pressure forty")
    day.tell("1:30 water half\n2:00 damper shut\n4:00 water half")
    day.reply("not today", after_s=2.0)
    day.reply("undo that")
    assert not day.session.state.reports.of("not today")
    day.silence(2.0)
    day.reply("water half")
    day.silence(2.0)
    assert "damper to open" in day.session.state.asked
