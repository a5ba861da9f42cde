"""What was heard without a figure, doubted or taken back keeps the heat off until it is called."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

FIRE_ASKED_FOR = ("Blower on.", "Coal now")


def steaming(psi: str = "eighty") -> Day:
    day = taken_over("raising steam", pressure=f"pressure {psi}", fire="fire is bright")
    day.tell(f"1:00 pressure {psi}, water half")
    return day


def asks_for_fire(said: str) -> bool:
    return any(each in said for each in FIRE_ASKED_FOR)


@pytest.mark.parametrize("words", ["low water", "out of water", "the water is low"])
def test_low_water_told_without_a_level_is_a_warning_at_once_and_wants_no_fire(words: str) -> None:
    day = steaming()
    said = day.tell(f"2:00 {words}\n4:00")
    assert "Warning. Where is the water? Water told low." in said
    assert not asks_for_fire(said)
    assert "Warning. Where is the water?" in day.reply("coal on the fire")
    day.reply("water half")
    assert "water told low" not in day.standing


def test_a_reading_that_is_taken_back_is_no_first_of_two() -> None:
    day = steaming("one hundred")
    day.tell(
        "2:00 water a quarter\n3:00 water a third\n3:20 wrong, water a quarter\n4:30 water a third"
    )
    assert "low water" in day.standing
    day.tell("5:30 water a third")
    assert "low water" not in day.standing


def test_over_the_lift_a_corrected_reading_counts_anew() -> None:
    day = steaming("one hundred")
    day.tell(
        "4:00 pressure one hundred and fifty\n5:00 pressure one hundred and thirty\n"
        "5:20 wrong, one hundred and fifty\n6:30 pressure one hundred and thirty"
    )
    assert "over-pressure" in day.standing


def test_beside_pressure_that_is_gone_nobody_is_sent_to_the_fire() -> None:
    day = steaming("one hundred")
    said = day.tell("2:00 pressure fifteen\n2:20 that's right\n4:00")
    assert "Pressure gone. Stand clear" in said
    assert not asks_for_fire(said)
    assert "Stand clear" in day.reply("coal on the fire")


def test_a_doubted_gauge_at_the_lift_wants_no_fire_until_it_is_called() -> None:
    day = steaming("ninety")
    said = day.tell("2:00 pressure one hundred and forty five\n5:00")
    assert "Warning. Pressure perhaps high. Read the gauge now." in said
    assert not asks_for_fire(said)
    day.reply("pressure ninety two")
    assert "pressure perhaps high" not in day.standing


def test_two_falls_that_are_each_doubted_bear_each_other_out() -> None:
    day = steaming()
    said = day.tell("2:00 pressure forty five\n3:00 pressure thirty five")
    assert "Pressure gone. Stand clear" in said
    assert not asks_for_fire(said)


def test_nose_down_no_level_is_one_until_she_stands_level() -> None:
    day = steaming()
    said = day.tell("2:00 nose down\n2:20 water half\n4:00")
    assert not asks_for_fire(said)
    assert "standing nose down" in day.reply("ann has the watch")
    day.tell("6:00 level again\n6:10 water half")
    assert asks_for_fire(day.silence(2))


@pytest.mark.parametrize("call", ["plug has gone", "safety valve is stuck", "plug is weeping"])
def test_undo_said_twice_is_no_yes_to_its_own_question(call: str) -> None:
    day = steaming()
    day.reply(call)
    assert "is that right?" in day.reply("undo that")
    assert "is that right?" in day.reply("undo that")
    assert day.standing
    day.reply("yes")
    assert call not in day.standing


def test_nobody_goes_home_from_an_open_damper_and_a_running_feed() -> None:
    day = taken_over("standing by", pressure="pressure one hundred", fire="fire is bright")
    said = day.tell(
        "1:00 pressure one hundred, water half\n1:30 feed running\n1:50 damper open\n"
        "2:00 banked for the night\n2:30 ann"
    )
    assert "Not yet: damper shut, feed off." in said
    said = day.tell("3:00 damper shut\n3:10 finished feeding")
    assert "Ann stays" in said or "The one you named stays" in said


def test_a_fire_that_is_to_die_is_not_banked() -> None:
    day = taken_over("standing by", pressure="pressure one hundred", fire="fire is bright")
    said = day.tell(
        "1:00 pressure one hundred, water half\n1:30 mud door is leaking\n2:00 banked for the night"
    )
    assert "Not with a danger standing: boiler leaking." in said


def test_a_draught_that_is_stuck_open_is_open() -> None:
    day = steaming("one hundred")
    said = day.tell(
        "2:00 damper is stuck open\n2:10 blower is stuck open\n"
        "3:00 pressure one hundred and twenty two\n4:00 pressure one hundred and thirty"
    )
    assert "Warning. Pressure high. Let the fire die, feed." in said


def test_a_leak_with_a_fire_lit_wants_the_fire_out_from_the_match_on() -> None:
    day = Day("practice")
    said = day.tell("0:10 water half\n0:20 fire lit\n0:30 mud door is leaking\n3:00")
    assert "Warning. Let the fire die. Boiler leaks." in said
    assert "Do not light" not in said


def test_a_feather_told_before_is_no_lift() -> None:
    day = steaming("one hundred and twenty")
    said = day.tell(
        "2:00 pressure one hundred and thirty\n2:20 valve feathering\n"
        "4:00 pressure one hundred and forty eight"
    )
    assert "Valve should lift now. Does it?" in said
    assert "Danger. Pressure above the lift." in day.reply("it does not lift")


def test_a_gauge_too_low_for_a_valve_that_lifts_is_not_settled_by_its_shutting() -> None:
    day = steaming("ninety")
    said = day.tell(
        "2:00 pressure one hundred\n3:00 valve lifting\n3:30 pressure ninety three\n"
        "4:00 valve shut\n4:30 how long\n6:00"
    )
    assert "Gauge fits the valve" not in said
    assert not asks_for_fire(said)
    assert "minutes to wanted pressure" not in said


def test_nobody_moves_off_without_a_feed_that_works() -> None:
    day = taken_over("standing by", pressure="pressure one hundred", fire="fire is bright")
    said = day.tell("1:00 pressure one hundred, water half\n1:20 no feed works\n1:40 moving off")
    assert "Not without a feed that works." in said


def test_no_to_a_question_of_the_list_takes_nothing_back() -> None:
    day = Day("fullsize")
    day.through("water a third", "brake on and chocked", "out of gear", "regulator shut")
    day.reply("drains open")
    for word in ("no", "no it isn't"):
        said = day.reply(word)
        assert "Taken back" not in said
        assert "Say what you see" in said


def test_yes_to_a_question_of_the_list_is_answered() -> None:
    day = Day("fullsize")
    day.through("water a third", "brake on and chocked", "out of gear", "regulator shut")
    day.reply("drains open")
    assert day.reply("yes") != ""


def test_a_corrected_good_reading_is_still_the_first_of_two() -> None:
    day = steaming("one hundred")
    day.tell(
        "4:00 pressure one hundred and fifty\n5:00 pressure one hundred and thirty\n"
        "5:20 wrong, one hundred and thirty five"
    )
    assert "Danger still. Call the gauge once more" in day.silence(1)


def test_what_is_still_open_at_night_is_told_once_in_a_breath() -> None:
    day = taken_over("standing by", pressure="pressure one hundred", fire="fire is bright")
    day.tell("1:00 pressure one hundred, water half\n1:10 ann has the watch\n1:50 damper open")
    assert day.reply("banked for the night").count("Not yet: damper shut.") == 1


def test_a_fire_lit_on_a_mended_grate_is_made_up_again() -> None:
    day = steaming("sixty")
    assert not asks_for_fire(day.tell("2:00 a fire bar has dropped\n4:00"))
    assert asks_for_fire(day.tell("4:10 fire lit\n4:20 water half\n7:00"))


def test_a_gauge_near_the_valve_that_was_only_misspelt_is_asked_about_and_no_more() -> None:
    day = steaming("one hundred and thirty")
    said = day.tell("3:00 presure one hundred and forty")
    assert "is that right?" in said
    assert "pressure perhaps high" not in day.standing
