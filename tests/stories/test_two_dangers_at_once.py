"""Troubles beside each other: no act against another, none that is over, none unknowing."""

from __future__ import annotations

from day_story import Day, taken_over

from assistant.lab.days.day_plan import plan_of
from assistant.lab.days.days_bench import watched_day
from assistant.messages import Grade


def steaming() -> Day:
    day = taken_over("standing by", pressure="pressure ninety")
    day.tell("1:00 water half")
    return day


def test_nobody_watches_a_boiler_from_which_everybody_is_sent_away() -> None:
    day = steaming()
    said = day.tell("2:00 someone is hurt")
    assert "Somebody watches the boiler." in said
    said = day.tell("3:00 danger is over\n4:00 no water in sight\n4:20 somebody is burned")
    hurt = said[said.index("Somebody burned.") :]
    assert "Somebody watches the boiler" not in hurt
    assert "Away from the boiler with them, if it is safe." in hurt


def test_the_regulator_is_shut_for_one_who_is_hurt_and_no_other_steam_valve_touched() -> None:
    day = steaming()
    said = day.tell("2:00 someone is hurt\n2:20 no water in sight")
    assert "Touch no other steam valve." in said
    assert "Touch no steam valve." not in said


def test_she_is_stopped_before_everybody_goes_away_from_her() -> None:
    day = steaming()
    day.tell("2:00 everyone is clear\n2:10 drains open\n2:20 regulator open")
    said = day.tell("3:00 no water in sight")
    assert "Stop her gently, regulator shut." in said
    assert said.index("Stop her gently") < said.index("Everybody away")


def test_a_standing_engine_is_not_told_to_stop() -> None:
    day = steaming()
    assert "Stop her" not in day.tell("2:00 regulator shut\n3:00 no water in sight")


def test_over_the_lift_her_own_use_of_steam_is_let_go_on() -> None:
    day = steaming()
    day.tell("2:00 everyone is clear\n2:10 drains open\n2:20 regulator open")
    said = day.tell("3:00 pressure one fifty five\n3:10 yes")
    assert "over-pressure" in day.dangers
    assert "Stop her" not in said


def test_with_the_fire_out_nobody_is_told_to_stop_the_heat() -> None:
    day = steaming()
    day.tell("2:00 no water in sight\n2:30 fire drawn")
    said = day.tell("9:00")
    assert "Danger. No heat, keep away. No water in sight." in said
    assert "Stop the heat" not in said


def test_nobody_is_sent_to_a_glass_beside_a_plug_that_has_gone() -> None:
    day = steaming()
    said = day.tell("2:00 plug has gone\n30:00")
    assert "plug has gone" in day.dangers
    assert "Look now." not in said and "Look at the glass." not in said
    asked = [line for line in said.splitlines() if "here is the water?" in line]
    from_safety = "Seen from a safe place only: where is the water?"
    assert set(asked) == {f"Warning. {from_safety}", f"Danger. {from_safety}"}


def test_a_valve_that_lifts_after_all_is_no_stuck_valve() -> None:
    day = steaming()
    day.tell("2:00 pressure one forty\n2:10 yes\n2:20 safety valve will not lift")
    assert "safety valve is stuck" in day.dangers
    said = day.tell("4:00")
    assert "Does it?" not in said, "it was told that it does not"
    day.tell("4:10 valve lifting")
    assert "safety valve is stuck" not in day.standing
    day.tell("4:30 safety valve will not lift")
    assert "safety valve is stuck" in day.dangers, "told again, it is one again"


def test_no_feed_over_a_glass_that_was_told_not_to_move() -> None:
    day = steaming()
    day.tell("2:00 glass does not move")
    assert "Stop the feed." in day.tell("2:30 feed running")
    assert "feed after lost water" in day.dangers
    day.tell("3:00 water half")
    assert "feed after lost water" in day.dangers, "a level called of it is none"
    day.tell("3:10 feed stopped")
    assert "feed after lost water" not in day.dangers


def test_a_glass_that_moves_again_is_read_again() -> None:
    day = steaming()
    day.tell("2:00 glass does not move")
    assert "glass not proved" in day.standing
    day.tell("2:30 it moves again\n2:50 water half")
    assert "glass not proved" not in day.standing


def test_a_gauge_that_shows_a_sixth_too_little_is_not_proved_by_a_lift() -> None:
    day = steaming()
    day.tell("2:00 valve lifting\n2:10 pressure one eighteen")
    assert day.standing.get("gauge and valve disagree") is Grade.WARNING
    day.tell("3:00 valve shut\n5:00 pressure one twenty\n5:20 valve lifting\n5:50 valve shut")
    assert {"gauge and valve disagree", "gauge and valve unsettled"} & day.standing.keys()


def test_a_regulator_opened_with_nobody_asked_is_shut_until_they_are_clear() -> None:
    day = steaming()
    day.tell("2:00 regulator shut\n2:10 drains open")
    assert "Shut the regulator. Is everyone clear?" in day.tell("3:00 regulator open\n3:30")


def test_where_we_are_names_the_danger_and_not_a_feed_that_must_not_be() -> None:
    day = taken_over("pumping", pressure="pressure ninety")
    day.tell("1:00 water half\n1:10 tank full\n1:20 everyone is clear\n1:30 drains open")
    day.tell("1:40 regulator open\n2:30 drains shut")
    assert day.reply("where are we").endswith("Shut the bypass.")
    day.tell("3:00 glass broken")
    said = day.reply("where are we", after_s=40.0)
    assert "Glass broken" in said and "bypass" not in said


def test_with_the_tank_empty_no_list_asks_for_feed() -> None:
    day = taken_over("pumping", pressure="pressure ninety")
    day.tell("1:00 water half\n2:00 tank is empty")
    said = day.tell("9:00 water just under half\n14:00")
    assert "Tank empty. Fill it now." in said
    assert "Feed" not in said and "Bring the water well up" not in said


def test_that_no_feed_works_is_told_in_four_words() -> None:
    day = steaming()
    said = day.tell("2:00 no feed works")
    assert "No feed works." in said
    assert "no feed works" in day.standing
    said = day.tell("3:00 water one third")
    assert day.standing.keys() & {"no feed, urgent", "no feed, water falling"}
    assert "amper shut" in said


def test_an_empty_tank_near_the_mark_asks_for_less_heat_and_not_for_feed() -> None:
    day = steaming()
    day.tell("2:00 tank is empty\n3:00 water three eighths")
    said = day.tell("4:00 water a third")
    assert "amper shut" in said
    assert "Feed now" not in day.heard


def test_low_water_over_a_fire_that_is_out_is_said_seldom() -> None:
    day = steaming()
    day.tell("2:00 fire drawn\n3:00 water one quarter")
    assert "low water" in day.dangers
    assert day.tell("7:30").count("Water low.") <= 1


def test_what_was_never_proved_is_open_though_the_list_has_gone_on() -> None:
    day = Day()
    day.tell("0:20 plate is right\n1:00 water half")
    assert "to go." in day.reply("open items")
    day.tell("3:00 fire lit")
    said = day.reply("open items")
    assert "safety valve free" in said or "glass proved cold" in said


def test_a_leak_near_the_mark_wants_feed_as_well_as_the_leak_found() -> None:
    day = steaming()
    day.tell("2:00 pressure ninety\n4:00 water three eighths\n4:10 pressure ninety")
    day.tell("5:30 water one third\n5:40 pressure ninety")
    day.tell("6:30 water just over a quarter")
    assert "Water falls faster than use. Find the leak." in day.heard
    assert "Water near lower mark. Feed now." in day.heard


def test_who_is_told_to_blow_it_through_may_answer_in_short() -> None:
    day = steaming()
    day.tell("2:00 glass comes back slowly\n2:30 feed running")
    assert "feed after lost water" in day.dangers
    assert day.reply("comes back at once") == "Glass comes back at once."
    assert "glass not proved" not in day.standing


def test_beside_a_glass_that_is_not_proved_no_other_feed_is_asked_for_and_no_gain_told() -> None:
    day = taken_over("standing by", pressure="pressure ninety")
    day.tell("1:00 water five eighths\n2:00 glass comes back slowly\n2:30 feed running")
    said = day.tell("6:00 water three eighths\n7:00 feed stopped\n8:00 water two thirds\n9:00")
    assert "Damper shut, no firing." in said
    assert "Try any other feed" not in said
    assert "Water rising" not in said


def test_a_glass_called_full_is_so_no_more_when_nothing_is_in_sight() -> None:
    day = steaming()
    day.tell("4:00 water three quarters\n6:00 water full")
    assert "glass full" in day.standing
    day.tell("7:00 no water in sight")
    assert {"glass full", "water near the upper mark"}.isdisjoint(day.standing)
    assert "Glass full" not in day.tell("12:00")


def test_two_dangers_and_a_warning_that_take_turns_leave_room_for_the_water() -> None:
    """A random day: something is said every fifteen seconds, and the water is still asked for."""
    seen, _ = watched_day(plan_of(120070))
    assert [found.key for found in seen.violations] == []


def test_water_unread_beside_a_leak_is_a_danger_said_so_though_nobody_is_sent_near() -> None:
    day = steaming()
    day.tell("2:00 water in the firebox\n2:10 alarm heard\n2:20 wait ten minutes")
    said = day.tell("25:00").splitlines()
    assert "water not read" in day.dangers
    assert "Danger. Seen from a safe place only: where is the water?" in said
    assert not [line for line in said if "Look at the glass" in line]
