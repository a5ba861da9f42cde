"""Heat that was stopped in part, called stopped, or left in: it is told until it is out."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

OVER = "Danger. Pressure above the lift."


def steaming(psi: str = "eighty", engine: str = "practice") -> Day:
    day = taken_over("raising steam", engine, f"pressure {psi}", "coal on the fire")
    day.tell("1:00 water half")
    return day


def test_a_new_glass_over_heat_shows_no_level_before_it_is_proved() -> None:
    day = steaming(engine="fullsize")
    day.tell("2:30 gauge glass burst\n2:50 glass cocks shut\n3:20 new glass fitted")
    said = day.tell("6:00 water half\n8:00")
    assert "level unknown" in day.dangers and "Stop the heat. Damper shut." in said
    assert "Blower on" not in said and "wanted pressure" not in said
    day.tell("8:10 comes back at once\n8:20 water half")
    assert not day.dangers


def test_with_the_heat_stopped_a_new_glass_is_to_be_blown_through_and_heat_is_opposed() -> None:
    day = steaming()
    day.tell("2:00 blower shut\n2:10 damper shut\n2:30 gauge glass burst\n2:50 glass cocks shut")
    assert "Blow the new glass through." in day.tell("3:20 new glass fitted\n4:00")
    assert "Danger. Level unknown. Stop the heat." in day.reply("damper open")
    assert "Danger. Level unknown. Stop the heat." in day.reply("coal on the fire", 20.0)


def test_a_glass_that_fails_its_test_wants_no_heat_and_bears_no_minutes() -> None:
    day = steaming()
    day.tell("2:00 blew the glass through\n2:20 does not move")
    assert "No heat, blow through." in day.reply("coal on the fire", 40.0)
    assert "No heat, blow through." in day.reply("blower on", 30.0)
    said = day.tell("5:00 water half\n9:00 water half\n9:10 pressure one hundred")
    assert "Blower on." not in said and "wanted pressure" not in said


@pytest.mark.parametrize(
    ("called", "words"),
    [
        ("no water in sight", "Danger. Let the fire die. No water in sight."),
        ("water at the bottom", "Danger. Water low. Let the fire die."),
    ],
)
def test_beside_a_damper_that_is_stuck_the_fire_itself_is_to_go(called: str, words: str) -> None:
    day = steaming()
    said = day.tell(f"1:20 damper is stuck open\n2:00 {called}\n2:30 blower shut\n5:00")
    assert said.count(words) >= 3
    assert words in day.reply("pressure ninety")


def test_over_the_lift_behind_a_stuck_damper_it_is_told_without_a_pause() -> None:
    day = steaming("one hundred")
    day.tell("1:10 valve shut\n1:20 damper is stuck open\n1:40 pressure one hundred and fifty")
    day.tell("1:50 yes\n2:30 blower shut")
    assert day.tell("6:00").count(f"{OVER} Let the fire die.") >= 5


def test_a_gauge_that_rises_with_the_heat_stopped_has_the_danger_back() -> None:
    day = steaming()
    day.tell("2:00 no water in sight\n2:20 damper shut\n2:40 blower shut\n4:00")
    assert "Danger. Let the fire die. No water in sight." in day.reply("pressure ninety", 60.0)


def test_a_valve_over_a_dead_gauge_is_a_danger_until_the_blower_is_shut_too() -> None:
    day = steaming("sixty")
    day.tell("1:10 blower on\n3:00 safety valve lifting\n3:20 pressure sixty\n3:40 damper shut")
    assert "Blower shut." in day.silence(3.0)
    assert "valve over a dead gauge" in day.dangers
    day.reply("blower shut")
    assert "valve over a dead gauge" not in day.standing


def test_a_fire_called_drawn_while_the_gauge_climbs_is_asked_about() -> None:
    day = steaming("one hundred", "fullsize")
    day.tell("3:00 fire drawn\n6:00 pressure one hundred and fifteen")
    assert "fire in her" in day.tell("9:00 pressure one hundred and thirty\n9:30").lower()


def test_a_foaming_glass_does_not_end_low_water() -> None:
    day = taken_over("tick-over", "fullsize", "pressure one hundred and forty", "coal on the fire")
    day.tell("1:00 water half\n1:20 nobody near\n1:30 drains open\n1:50 regulator open")
    day.tell("3:00 water quarter\n4:00 water three eighths\n4:30 priming now")
    said = day.tell("5:10 water half\n6:10 water half")
    assert "low water" in day.dangers and "above the mark" not in said
    assert "Water foams." in day.silence(1.0)
    day.tell("7:20 regulator shut\n8:00 it has settled\n8:10 comes back at once")
    day.tell("8:30 water half\n9:40 water half")
    assert "low water" not in day.standing


def test_a_gauge_told_stuck_is_a_warning_that_wants_no_fire_and_is_told_at_night() -> None:
    day = taken_over("standing by", "fullsize", "pressure ninety", people=("Bert",))
    day.tell("1:00 water half\n1:40 fire banked, damper shut\n2:30 gauge is stuck")
    assert "Damper and blower shut. Gauge told wrong." in day.heard
    assert "Gauge told wrong. Bert stays." in day.tell("3:00 banked for the night\n3:10 bert")


def test_heat_put_on_beside_a_gauge_told_stuck_is_opposed_at_once() -> None:
    day = steaming("one hundred")
    day.tell("2:00 gauge is stuck")
    assert "Warning. Damper and blower shut." in day.reply("blower on", 60.0)
    assert "Warning. Damper and blower shut." in day.reply("coal on the fire", 60.0)
    day.tell("6:00 gauge reads right")
    assert "gauge told wrong" not in day.standing


def test_a_feed_that_may_be_the_injector_is_not_stopped_by_the_regulator() -> None:
    day = taken_over("tick-over", "fullsize", "pressure one hundred and forty", "coal on the fire")
    day.tell("1:00 water half\n1:20 nobody near\n1:30 drains open\n1:50 regulator open")
    day.tell("3:00 nothing in the glass\n3:30 injector running\n4:00 regulator shut")
    assert "Danger. Stop the feed. Level unknown." in day.tell("5:30")
    day.reply("injector stopped")
    assert "feed after lost water" not in day.standing


@pytest.mark.parametrize("call", ["plate is red hot", "driver is ill"])
def test_she_is_stopped_before_people_are_sent_from_her(call: str) -> None:
    day = taken_over("tick-over", "fullsize", "pressure one hundred and forty", "coal on the fire")
    day.tell("1:00 water half\n1:20 nobody near\n1:30 drains open\n1:50 regulator open")
    assert "Stop her gently, regulator shut." in day.reply(call)


def test_after_somebody_was_caught_nothing_moves_before_all_are_clear() -> None:
    day = taken_over("tick-over", pressure="pressure one hundred")
    day.tell("1:00 water half\n1:20 nobody near\n1:30 drains open\n2:20 hand is caught")
    said = day.tell("2:50 danger is over\n3:40")
    assert "Is everyone clear?" in said and "Reverser" not in said
    assert "Somebody is near" in day.reply("regulator open")
    day.tell("4:30 regulator shut\n4:40 people are clear")
    assert "Reverser full forward." in day.silence(2.0)


def test_a_fire_that_is_out_beside_a_fire_outside_is_asked_about() -> None:
    day = steaming("one hundred", "fullsize")
    day.tell("2:30 grass is on fire")
    assert "The one outside, or hers?" in day.reply("fire is out", 30.0)
    day.reply("no")
    assert day.session.state.fire_in


def test_a_grave_call_said_twice_is_taken_back_once_for_all() -> None:
    day = steaming()
    day.tell("2:00 plate is red hot\n5:00 plate is red hot\n5:30 take that back")
    day.reply("yes", 8.0)
    assert not day.dangers


def test_the_new_watch_is_told_what_is_wrong_with_her() -> None:
    day = taken_over("raising steam", "fullsize", "pressure one hundred", people=("Bert",))
    day.tell("1:00 water half\n1:10 damper is stuck open\n1:20 valve is weeping")
    said = day.tell("1:40 bert has the watch")
    assert "Damper is stuck" in said and "valve is leaking" in said.lower()
