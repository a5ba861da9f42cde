"""With steam up a driver who says nothing is a danger himself, unless it is we who cannot hear."""

from __future__ import annotations

from itertools import pairwise

import pytest
from day_story import Day, taken_over

from assistant.messages import TOO_LOUD, Alternative, DeviceBack, DeviceLost, Grade, Heard, Report

NAME = "nobody answers"
WORDS = "Danger. Nobody answers. Somebody look at the glass."


def deaf(day: Day, reason: str) -> None:
    day.at += 5.0
    day.event(DeviceLost(day.at, "microphone", reason))


@pytest.mark.parametrize("engine", ["practice", "copper", "fullsize"])
def test_with_steam_up_and_two_intervals_without_a_word_whoever_is_near_is_called(
    engine: str,
) -> None:
    day = taken_over("standing by", engine, "pressure sixty")
    day.silence(9.0)
    assert NAME not in day.standing
    said = day.silence(2.0)
    assert day.standing[NAME] is Grade.DANGER
    assert WORDS in said


def test_it_goes_on_for_an_hour_beside_the_glass() -> None:
    day = taken_over("standing by", "practice", "pressure sixty")
    day.silence(60.0)
    late = [at for at in day.times_of(WORDS) if at > 1800.0]
    assert max(b - a for a, b in pairwise(late)) <= 120.0
    glass = [at for at in day.times_of("Look at the glass") if at > 1800.0]
    assert max(b - a for a, b in pairwise(glass)) <= 60.0


@pytest.mark.parametrize("words", ["pressure sixty", "what next", "understood"])
def test_any_word_that_is_understood_ends_it(words: str) -> None:
    day = taken_over("standing by", "practice", "pressure sixty")
    day.silence(12.0)
    day.reply(words)
    assert NAME not in day.standing
    assert "water not read" in day.dangers, "a word is no look at the glass"


def test_without_steam_his_silence_is_his_own() -> None:
    day = Day()
    day.silence(60.0)
    assert NAME not in day.standing


def test_acts_of_a_danger_that_was_seen_go_before_it() -> None:
    day = taken_over("standing by", "practice", "pressure sixty")
    day.tell("1:00 no water in sight\n1:10 correct")
    day.silence(20.0)
    stop = [at for at in day.times_of("Stop the heat.") if at > 800.0]
    assert len(stop) > len([at for at in day.times_of(WORDS) if at > 800.0]) * 2


@pytest.mark.parametrize("reason", [TOO_LOUD, "no sound for 2 s"])
def test_while_we_are_deaf_he_is_not_away_and_the_glass_goes_on_growing_late(reason: str) -> None:
    day = taken_over("standing by", "practice", "pressure sixty")
    deaf(day, reason)
    day.silence(40.0)
    assert NAME not in day.standing
    assert "water not read" in day.dangers
    assert "pressure reading overdue" in day.standing


def test_too_loud_is_told_once_with_what_to_do_and_its_end_is_told() -> None:
    day = taken_over("standing by", "practice", "pressure sixty")
    deaf(day, TOO_LOUD)
    assert day.said() == ["Warning. I cannot hear you. Watch gauges and glass. Press or type."]
    day.silence(20.0)
    assert len(day.times_of("I cannot hear you")) == 1
    day.at += 5.0
    day.event(DeviceBack(day.at, "microphone"))
    assert day.said()[0] == "I hear you again."
    assert "too loud to hear" not in day.standing


def test_after_we_hear_again_his_silence_begins_anew() -> None:
    day = taken_over("standing by", "practice", "pressure sixty")
    deaf(day, TOO_LOUD)
    day.silence(20.0)
    day.event(DeviceBack(day.at, "microphone"))
    day.silence(9.0)
    assert NAME not in day.standing
    day.silence(2.0)
    assert NAME in day.standing


def test_a_microphone_that_is_lost_says_what_to_do_instead() -> None:
    day = taken_over("standing by", "practice", "pressure sixty")
    deaf(day, "unplugged")
    assert "Look at the glass; press or type." in day.text()


def test_that_he_is_heard_again_is_told() -> None:
    day = taken_over("standing by", "practice", "pressure sixty")
    found = (Alternative(Report("pressure", 70.0, "psi"), "seven zero", 0.9),)
    for _ in range(3):
        day.at += 5.0
        day.event(Heard(day.at, "test", found, log_ratio=-8.0, average=-2.2))
    assert "I cannot hear you" in day.text()
    day.sound((Report("pressure", 60.0, "psi"), 0.99))
    assert day.said()[0] == "I hear you again."


def test_while_the_machine_was_away_he_was_not_silent() -> None:
    day = taken_over("standing by", "practice", "pressure sixty")
    day.away(20.0)
    day.silence(5.0)
    assert NAME not in day.standing
