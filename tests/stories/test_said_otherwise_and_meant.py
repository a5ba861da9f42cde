"""What a driver says in his own order and words: it is taken, or asked about, and not forgotten."""

from __future__ import annotations

import pytest
from day_story import Day, steaming, taken_over


@pytest.mark.parametrize(
    "words",
    [
        "water dropped out of the glass",
        "hang on, I can hardly see the water",
        "glass might be empty",
        "water just above the bottom nut",
    ],
)
def test_water_that_may_be_gone_is_asked_about_and_told_twice_is_gone(words: str) -> None:
    day = steaming()
    day.tell("1:00 water half")
    assert "No water in sight: is that right?" in day.reply(words)
    assert not day.dangers
    assert "Danger. Stop the heat. No water in sight." in day.reply("glass looks empty", 5.0)


@pytest.mark.parametrize(
    "words", ["the water in the tank has gone", "tell me if the water has gone", "glass not empty"]
)
def test_what_is_no_water_gone_is_not_asked_about(words: str) -> None:
    day = steaming()
    day.tell("1:00 water half")
    assert "No water in sight" not in day.reply(words)


def test_the_valve_behind_the_gauge_is_taken_with_what_else_is_said() -> None:
    day = steaming()
    day.tell("1:00 water half, pressure one thirty")
    said = day.reply("pressure one forty two, blowing, water three eighths")
    for part in ("Pressure one four two.", "Safety valve lifting.", "Water three eighths."):
        assert part in said
    assert "Safety valve feathering." in day.reply("feathering at one thirty five", 40.0)
    assert "Safety valve lifting." in day.reply("pressure one forty four, still blowing", 40.0)


def test_what_says_nothing_of_her_loses_no_reading() -> None:
    day = steaming()
    day.tell("1:00 water half")
    assert "Water five eighths." in day.reply("back, water five eighths")


@pytest.mark.parametrize(
    "words",
    ["arm caught in the belt", "he is caught in the flywheel", "she has run over somebody"],
)
def test_somebody_caught_is_a_danger_at_once(words: str) -> None:
    day = steaming("tick-over")
    assert day.reply(words).startswith("Danger. Regulator shut, call help. Someone trapped.")


def test_a_call_with_a_name_in_it_is_asked_about_and_told_twice_stands() -> None:
    day = steaming("tick-over")
    assert "Someone is trapped: is that right?" in day.reply("Jim is caught in the flywheel")
    day.reply("Jim is caught in the flywheel", 10.0)
    assert day.dangers == {"someone is trapped"}


def test_over_the_lift_a_valve_told_not_to_move_before_is_a_danger_soon() -> None:
    day = steaming("raising steam", "pressure one thirty")
    day.tell("1:00 water half, pressure one thirty five\n1:30 valve not lifting")
    said = day.tell("2:00 pressure one forty eight\n2:25")
    assert "Valve should lift now. Does it?" in said
    assert "Work the hand pump" not in said
    assert not day.dangers
    assert "Danger. Pressure above the lift. Stop the heat." in day.tell("2:35")


def test_over_the_lift_the_list_waits_for_the_valve_and_a_lift_ends_the_danger() -> None:
    day = steaming("raising steam", "pressure one thirty")
    day.tell("1:00 water half, pressure one thirty five\n1:30 valve not lifting")
    day.tell("2:00 pressure one forty eight\n2:40")
    assert day.dangers
    assert "Safety valve lifting." in day.reply("valve lifting", 5.0)
    assert not day.dangers
    silent = steaming("raising steam", "pressure one thirty")
    said = silent.tell("1:00 water half, pressure one forty\n2:00 pressure one forty eight\n6:00")
    assert said.count("Valve should lift now. Does it?") >= 2
    assert "Lift the extension off" not in said[said.index("Valve should lift now") :]


def test_water_that_swells_over_a_fire_lit_too_soon_is_not_let_out() -> None:
    day = Day("fullsize")
    day.tell("1:00 water third\n2:00 fire lit\n10:00 pressure zero")
    said = day.tell("20:00 water half")
    assert "Let some out" not in said
    assert "expansion" in said


def test_two_falls_beyond_what_a_feed_takes_are_told_and_no_minutes_are() -> None:
    day = taken_over("raising steam", "copper", "pressure eighty", "fire is bright")
    day.tell("1:00 water half, pressure ninety\n1:20 pumping\n3:00 water five eighths")
    said = day.tell("4:00 pressure seventy\n5:00 pressure fifty, water five eighths\n5:30 how long")
    assert "Pressure falling." in said
    assert "minutes to wanted pressure" not in said


def test_a_feed_that_gains_near_the_mark_does_not_fail() -> None:
    day = steaming("pumping")
    day.tell("1:00 water half\n2:00 pump running\n3:30 water quarter\n6:00 water quarter")
    said = day.tell("8:00 water third\n9:10 water three eighths\n11:30")
    assert "Water above the mark again." in said
    assert "feed fails" not in said


def test_glass_cocks_shut_when_she_is_cold_are_no_trouble() -> None:
    day = taken_over("putting away", pressure="pressure zero", fire="fire is drawn")
    said = day.tell("1:00 water half, pressure zero\n2:00 glass cocks shut\n6:00")
    assert "Glass cocks shut." in said
    assert "Glass not proved" not in said
