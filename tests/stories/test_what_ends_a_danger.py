"""What ends a danger and what does not: two calls in one breath, a false level, a correction."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over


def steaming(engine: str = "practice", pressure: str = "one hundred", phase: str = "") -> Day:
    phase = phase or "standing by"
    return taken_over(phase, engine, f"pressure {pressure}", "coal on the fire")


def test_two_calls_in_one_breath_are_one_look() -> None:
    day = steaming()
    day.tell("1:00 water three eighths\n2:00 water quarter\n2:40 water three eighths")
    day.tell("2:45 water three eighths")
    assert "low water" in day.dangers
    day.tell("3:40 water three eighths")
    assert "low water" not in day.standing


@pytest.mark.parametrize(
    ("script", "words"),
    [
        ("2:00 water quarter\n2:30 regulator open\n3:30 water half\n4:40 water half", "swells"),
        ("1:00 going up hill\n1:10 water quarter\n2:00 water half\n3:10 water half", "leans"),
        (
            "3:00 water quarter\n3:10 injector running\n3:40 water three quarters\n"
            "4:50 water three quarters",
            "Doubt the glass",
        ),
    ],
)
def test_a_level_that_cannot_be_one_ends_no_low_water(script: str, words: str) -> None:
    day = steaming("fullsize", "one hundred and forty")
    day.tell(script)
    assert "low water" in day.dangers
    assert words in day.silence(6.0)
    assert "above the mark again" not in day.heard


def test_proved_by_the_glass_it_ends() -> None:
    day = steaming("fullsize", "one hundred and forty")
    day.tell("3:00 water quarter\n3:10 injector running\n3:40 water three quarters")
    day.tell("5:00 comes back at once\n5:10 water three quarters\n6:10 water three quarters")
    assert "low water" not in day.standing


def test_a_correction_out_of_a_danger_called_twice_is_one_reading() -> None:
    day = steaming("copper", "seventy")
    day.tell("4:00 water one eighth\n5:00 water one eighth\n5:10 no water half")
    assert "low water" in day.dangers
    day = steaming()
    day.tell("2:00 pressure one sixty\n3:00 pressure one sixty\n3:10 no pressure one forty")
    assert "over-pressure" in day.dangers


def test_called_once_and_corrected_it_was_none() -> None:
    day = steaming()
    day.tell("4:00 water one eighth\n4:10 no water half")
    assert not day.dangers


def test_lit_over_a_glass_that_shows_nothing_the_feed_is_opposed_and_nothing_is_over() -> None:
    day = Day("practice")
    day.tell("0:20 no water in the glass\n0:40 fire lit")
    assert "Danger. Stop the feed. Level unknown." in day.tell("1:20 hand pump going\n1:30")
    day.tell("3:00 water half\n4:10 water half\n6:00 pressure five\n9:00 pressure nine")
    assert "water doubted" in day.dangers


def test_on_a_live_wire_nobody_is_sent_off_her() -> None:
    day = steaming("fullsize", "one hundred and forty")
    day.tell("2:00 we touched a wire")
    said = day.tell("2:30 nothing in the glass\n3:00 somebody is burned\n4:00")
    assert "No water in sight" in said
    assert "Everybody away" not in said and "Away from" not in said


def test_a_fire_told_drawn_and_dead_is_none_while_the_gauge_climbs() -> None:
    day = steaming(phase="putting away")
    day.tell("1:10 water seven eighths\n2:00 fire drawn\n7:00 pressure one ten")
    assert "Warning. Pressure rises. See to the fire." in day.tell("12:00 pressure one twenty")
    day.tell("12:10 water seven eighths\n13:00 fire is dead")
    day.tell("17:00 pressure one thirty")
    assert "fire not out" in day.standing


def test_with_the_glass_full_feed_and_regulator_are_told_off() -> None:
    day = steaming("fullsize", "one hundred and forty", "tick-over")
    day.tell("1:10 water three quarters\n1:20 nobody near\n1:30 drains open\n1:40 injector running")
    assert "Feed off, blow through." in day.tell("4:00 water full\n4:05")
    assert "Regulator shut, drains open, feed off, blow through." in day.reply(
        "regulator open", 60.0
    )


def test_somebody_near_a_turning_engine_is_told_before_the_oil() -> None:
    day = steaming(phase="tick-over")
    day.tell("1:00 water half\n1:20 nobody near\n1:30 drains open\n1:50 regulator open")
    day.tell("2:40 lubricator stands still")
    assert "Warning. Regulator shut. Somebody is near." in day.reply("somebody is near", 60.0)
    said = day.silence(3.0)
    assert "Somebody is near." in said and "lubricator" not in said and "Reverser" not in said


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("somebody is under the wheel", "child inside the barrier"),
        ("he has been run over", "someone hurt"),
        ("his leg is crushed", "someone hurt"),
        ("he is unconscious", "someone hurt"),
        ("his sleeve is in the motion", "someone is trapped"),
        ("she won't stop", "engine is running away"),
        ("steering has gone", "engine is running away"),
    ],
)
def test_people_are_called_as_somebody_would_call_them(words: str, name: str) -> None:
    day = steaming()
    day.reply(words, 60.0)
    assert name in day.standing


def test_a_bare_answer_goes_to_the_question_put_last() -> None:
    day = steaming(phase="raising steam")
    day.tell("1:00 water half\n1:30 damper wide open\n2:00 pressure one thirty five")
    assert "Safety valve shut." in day.reply("no")
    day = steaming("fullsize", "one hundred and fifty", "raising steam")
    day.tell("1:00 water half\n1:30 damper wide open\n3:00 pressure one seventy\n3:06")
    assert "Say what you see" in day.reply("no", 4.0)
    assert "pressure above working" in day.standing


def test_worked_on_beside_low_water_she_is_told_to_be_stopped() -> None:
    day = steaming("fullsize", "one hundred and forty", "tick-over")
    day.tell("1:00 water half\n1:20 nobody near\n1:30 drains open\n2:00 no water in sight")
    day.tell("2:20 damper shut\n2:30 blower shut\n3:00 regulator open")
    assert "Danger. Regulator shut. No water in sight." in day.silence(1.5)


def test_water_that_shrinks_as_she_cools_is_no_leak() -> None:
    day = steaming("copper", "sixty five", "putting away")
    day.tell("1:00 water seven eighths\n2:00 fire drawn\n10:00 pressure forty")
    day.tell("10:10 water three quarters\n20:00 pressure fifteen\n20:10 water two thirds")
    assert "Find the leak" not in day.heard


def test_a_danger_that_only_his_word_ends_says_how_once() -> None:
    day = taken_over("standing by", fire="fire is bright")
    day.reply("he is burned")
    said = day.silence(4)
    assert said.count("say: danger over") == 1
    day.reply("danger over")
    assert not day.standing


def test_a_blow_down_that_was_stuck_and_is_told_shut_is_stuck_no_more() -> None:
    day = taken_over("standing by", pressure="pressure one hundred", fire="fire is bright")
    day.tell("1:00 pressure one hundred, water half\n2:00 losing all the water")
    assert "blow down is stuck open" in day.standing
    day.reply("blow down is shut")
    assert "blow down is stuck open" not in day.standing


def test_with_a_broken_glass_and_water_at_the_try_cocks_she_may_be_fed() -> None:
    day = taken_over("standing by", pressure="pressure one hundred", fire="fire is bright")
    day.tell(
        "1:00 pressure one hundred, water half\n2:00 glass broken\n2:20 both cocks shut\n"
        "2:40 try cocks show water\n3:00 feed running"
    )
    assert "feed after lost water" not in day.standing
