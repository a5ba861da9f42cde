"""What no word puts away: feed over an unknown level, a broken glass, a grave call, half of the
acts, a stuck valve over its feather, a cause that is known.
"""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

STOP_FEED = "Danger. Stop the feed. Level unknown."


def standing() -> Day:
    day = taken_over("standing by", pressure="pressure one hundred", fire="fire is bright")
    day.tell("1:00 water half\n1:10 pressure one hundred")
    return day


@pytest.mark.parametrize(
    "lost", ["glass has burst", "glass comes back slowly", "glass stays empty"]
)
def test_a_feed_that_runs_is_stopped_when_the_level_becomes_unknown(lost: str) -> None:
    day = standing()
    day.tell("2:00 feed running")
    assert STOP_FEED in day.tell(f"4:00 {lost}")
    assert STOP_FEED in day.tell("6:00 feed running")
    day.tell("6:30 feed stopped")
    assert "feed after lost water" not in day.standing


def test_no_feed_is_judged_by_a_glass_that_is_not_proved() -> None:
    day = standing()
    day.tell("2:00 feed running\n5:00 glass comes back slowly")
    said = day.tell("8:00 water half\n12:00 water half")
    assert "has not gained" not in said
    assert "check feed" not in said


@pytest.mark.parametrize(
    "words", ["take that back", "scratch that", "undo that", "take back the last reading"]
)
def test_a_grave_call_is_not_taken_back_unasked(words: str) -> None:
    day = standing()
    day.tell("6:00 no water in sight")
    assert day.reply(words) == "Water is in sight: is that right?"
    assert "water out of sight" in day.dangers


def test_taken_back_over_heat_the_water_is_asked_for_before_anything_else() -> None:
    day = standing()
    day.tell("6:00 water one quarter\n6:30 take that back")
    said = day.tell("9:00").splitlines()
    assert sum("Where is the water?" in line for line in said) >= 2
    assert not [line for line in said if "damper" in line.lower()]
    assert "No time while the water" in day.reply("how long")
    day.tell("9:30 water half")
    assert "Where is the water?" not in day.tell("10:30")


def test_said_otherwise_a_water_out_of_sight_is_asked_about() -> None:
    day = standing()
    day.tell("6:00 no water in sight")
    assert "Water is in sight: is that right?" in day.reply("i said half")
    assert "water out of sight" in day.dangers


def test_over_pressure_goes_on_until_all_of_the_heat_is_stopped() -> None:
    day = standing()
    day.tell("2:00 pressure one forty eight\n2:10 that's right\n2:20 valve did not lift")
    assert "over-pressure" in day.dangers
    day.tell("2:40 damper shut")
    said = day.tell("4:40").splitlines()
    assert said.count("Danger. Pressure above the lift. Blower shut.") >= 3
    day.tell("4:50 blower shut\n5:00 pressure one fifty")
    said = day.tell("7:00 pressure one fifty five").splitlines()
    assert any(line.startswith("Danger. Pressure above the lift.") for line in said), "it rises"


def test_water_doubted_wants_no_heat_and_says_so_when_heat_is_put_on() -> None:
    day = standing()
    day.tell("2:00 no water in sight")
    assert "Danger. Water doubted. No heat, no feed. Blow through." in day.tell("2:30 water half")
    assert "No heat" in day.reply("damper wide open")


def test_beside_a_gauge_that_is_stuck_the_draught_is_said_until_it_is_shut() -> None:
    day = standing()
    day.tell("2:00 damper wide open\n2:10 blower wide open\n2:30 gauge is stuck")
    assert day.tell("8:00").count("Damper and blower shut.") >= 2
    assert "No time while the gauge is not proved." in day.reply("how long")
    day.tell("8:10 damper shut\n8:20 blower shut")
    assert "shut." not in day.tell("12:00").replace("Gauge cock: open, or shut?", "")


def test_where_the_cause_is_known_nobody_is_sent_to_find_the_leak() -> None:
    day = standing()
    day.tell("2:00 tube has burst\n3:00 damper shut\n4:00 water half\n5:00 water three eighths")
    assert "Find the leak" not in day.tell("8:00 water a third\n9:00")


def test_a_stuck_valve_over_its_feather_is_not_over_by_a_word() -> None:
    day = standing()
    day.tell("2:00 pressure one forty\n2:10 that's right\n2:20 safety valve will not lift")
    day.tell("3:00 damper shut\n3:10 blower shut\n4:00 danger is over")
    assert "safety valve is stuck" in day.dangers
    day.tell("8:00 pressure one twenty five\n8:10 danger is over")
    assert "safety valve is stuck" not in day.standing


def test_a_blower_that_does_not_shut_is_answered_and_not_ordered_shut_again() -> None:
    day = standing()
    assert "Damper shut, no firing." in day.reply("blower won't shut")
    day.tell("3:00 water one quarter\n3:10 damper shut")
    assert "lower shut" not in day.tell("6:00")


def test_water_coming_back_after_it_was_lost_is_no_clack() -> None:
    day = standing()
    day.tell("2:00 no water in sight")
    said = day.reply("water coming back")
    assert "Where is the water?" in said
    assert "clack is stuck open" not in day.standing


@pytest.mark.parametrize("words", ["glass comes back slowly", "glass fills and stays"])
def test_a_glass_that_fails_its_test_twice_shows_no_level(words: str) -> None:
    day = standing()
    day.tell(f"2:00 {words}")
    assert "level not known" not in day.standing
    said = day.tell(f"3:30 {words}")
    assert "Danger. Level not known. Stop the heat." in said


def test_failed_once_and_proved_a_later_failure_is_the_first_again() -> None:
    day = standing()
    day.tell("2:00 glass comes back slowly\n3:00 comes back at once\n3:10 water half")
    day.tell("5:00 glass comes back slowly")
    assert "level not known" not in day.standing


def test_a_level_is_not_compared_with_one_of_a_glass_found_false() -> None:
    day = standing()
    day.tell("2:00 water nearly full\n3:00 glass fills and stays\n4:00 comes back at once")
    said = day.tell("4:20 water a third")
    assert "is that right" not in said
    assert "feed fails" not in said
    assert "Find the leak" not in said


def test_a_step_of_the_feed_left_open_beside_an_unknown_level_is_not_named() -> None:
    day = taken_over("raising steam", pressure="pressure sixty")
    day.tell("1:00 water half\n2:00 no water in sight")
    for _ in range(12):
        said = day.reply("leave that for now")
        assert "feed" not in said.lower().replace("no feed", "").replace("stop the feed", "")
