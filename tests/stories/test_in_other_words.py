"""A driver tells what he sees in his own words, without a figure, and it leads to the right act."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over


@pytest.fixture
def steaming() -> Day:
    return taken_over("raising steam", fire="fire is bright")


@pytest.mark.parametrize(
    "words", ["pressure's dropping", "we're losing pressure", "plenty of steam", "pressure is good"]
)
def test_pressure_told_without_a_figure_is_asked_for_at_once(steaming: Day, words: str) -> None:
    assert "What is the pressure?" in steaming.reply(words)


@pytest.mark.parametrize("words", ["water's fine", "plenty of water", "a good glass of water"])
def test_water_told_to_be_enough_is_no_level(steaming: Day, words: str) -> None:
    assert "Where is the water?" in steaming.reply(words)


def test_a_figure_after_it_ends_the_question(steaming: Day) -> None:
    steaming.reply("pressure's dropping")
    steaming.reply("fifty eight")
    assert "What is the pressure?" not in steaming.reply("blower's wide open")


def test_a_belt_that_came_off_stops_the_engine_and_keeps_people_away(steaming: Day) -> None:
    said = steaming.reply("the belt has come off")
    assert "Regulator shut." in said
    assert "Nobody near the belt" in said


def test_out_of_coal_the_water_goes_in_while_there_is_steam(steaming: Day) -> None:
    assert "Water up while there is steam" in steaming.reply("we're out of coal")


def test_out_of_coal_no_list_asks_for_any(steaming: Day) -> None:
    steaming.reply("we're out of coal")
    steaming.reply("blower's wide open")
    assert "Coal now" not in steaming.silence(2)


def test_the_fire_on_the_grass_is_out_and_the_one_in_her_is_not() -> None:
    day = taken_over("standing by", fire="fire is bright")
    assert "Fire outside." in day.reply("the hedge is on fire")
    day.reply("the grass fire is out", 30.0)
    assert not day.standing
    assert day.session.state.fire_in


def test_beside_another_danger_the_grass_fire_ends_nothing() -> None:
    day = taken_over("standing by", fire="fire is bright")
    day.reply("the grass is on fire")
    day.reply("somebody's been burned", 20.0)
    day.reply("the grass fire is out", 20.0)
    assert "somebody is burned" in day.standing


def test_leaving_her_with_fire_in_is_a_danger(steaming: Day) -> None:
    assert "Somebody stay with her." in steaming.reply("i'm leaving her")


def test_several_things_in_one_line_are_all_taken(steaming: Day) -> None:
    said = steaming.reply("pressure sixty two, water's half and the damper's half open")
    assert "Pressure sixty two." in said
    assert "Water half." in said
    assert "damper is half open" in said.lower()


def test_a_danger_is_heard_first_in_a_line_of_several(steaming: Day) -> None:
    said = steaming.reply("a tube has burst, there's no water in sight")
    assert said.splitlines()[0].startswith("Danger.")
    assert {"tube has burst", "water out of sight"} <= set(steaming.standing)


def test_a_blower_that_is_shut_is_not_asked_down_to_a_crack() -> None:
    day = taken_over("raising steam", pressure="pressure ninety", fire="fire is bright")
    said = day.tell(
        "1:00 blower is shut\n1:20 pressure one hundred and five\n2:00 water half\n5:00"
    )
    assert "Blower down to a crack" not in said


def test_a_fire_let_die_is_no_trouble() -> None:
    day = taken_over("putting away", fire="fire is bright")
    day.reply("water seven eighths")
    day.reply("drains open")
    assert "Let the fire die" in day.heard
    assert "Fire trouble" not in day.reply("fire's dying")
    assert day.session.state.latest_is("fire", "run down")


def test_a_dull_fire_at_work_is_one(steaming: Day) -> None:
    assert "Fire trouble" in steaming.reply("fire's dull")


def test_water_in_sight_is_no_low_water(steaming: Day) -> None:
    assert "Where is the water?" in steaming.reply("water's in sight")
    assert not steaming.dangers


def test_wood_on_the_fire_is_no_fire_outside(steaming: Day) -> None:
    steaming.reply("wood's on the fire")
    assert not steaming.dangers


def test_a_reading_is_corrected_in_its_own_words(steaming: Day) -> None:
    steaming.reply("pressure fifty eight")
    assert "Pressure six zero. Sixty." in steaming.reply("make that sixty")


def test_a_gauge_and_a_fraction_in_one_line(steaming: Day) -> None:
    said = steaming.reply("sixty, three quarters, blower's wide open")
    assert "Pressure six zero. Sixty." in said
    assert "Water three quarters." in said
