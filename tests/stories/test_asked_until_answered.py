"""What is asked and not answered, or is borne out by something else, is not let go."""

from __future__ import annotations

from day_story import Day, steaming, taken_over

STEAM_ASKED = "Warning. Steam escaping: is that right?"


def test_a_danger_called_among_other_words_is_asked_about_for_as_long_as_it_takes() -> None:
    day = steaming("standing by", "pressure one hundred")
    day.tell("1:00 water half, pressure one hundred\n2:00 burst pipe, steam everywhere")
    assert STEAM_ASKED in day.silence(1.0)
    said = day.reply("pressure ninety")
    assert "Blower on" not in said, "no more heat while steam may be escaping"
    assert STEAM_ASKED in day.silence(2.0), "a pressure is no answer to it"
    assert "steam escaping" not in day.standing
    day.reply("yes")
    assert "steam escaping" in day.standing


def test_a_no_ends_the_asking() -> None:
    day = steaming("standing by", "pressure one hundred")
    day.tell("1:00 water half, pressure one hundred\n2:00 burst pipe, steam everywhere")
    day.reply("no")
    assert "Steam escaping" not in day.silence(3.0)
    assert "steam escaping" not in day.standing


def test_a_valve_that_lifts_bears_out_that_the_gauge_is_dead() -> None:
    day = taken_over("raising steam", "practice", "pressure one twenty", "fire is bright")
    day.tell("1:00 water half, pressure one twenty\n2:00 pressure zero")
    said = day.reply("valve lifting")
    assert "Danger. Valve lifts, gauge low. Stop the heat." in said
    assert "No time" in day.reply("how long")


def test_a_valve_that_lifts_bears_out_a_gauge_that_was_not_believed() -> None:
    day = steaming("standing by", "pressure one hundred")
    day.tell("1:00 water half, pressure one hundred\n1:30 pressure one forty seven")
    assert "Pressure one four seven. Safety valve lifting." in day.reply("valve lifting")
    assert "pressure above working" in day.standing


def fire_that_would_not_draw() -> Day:
    day = Day("practice")
    day.tell("0:30 water half\n1:00 fire lit\n2:00 fire will not draw")
    return day


def test_a_fire_trouble_that_nobody_answers_holds_back_no_killer() -> None:
    assert "Brake on, chocked both ways" in fire_that_would_not_draw().silence(12.0)


def test_a_fire_trouble_is_over_once_the_pressure_has_come_up() -> None:
    day = fire_that_would_not_draw()
    day.tell("16:00 pressure zero, water half\n30:00 pressure five, water half")
    assert "Drawing now?" in day.silence(6.0), "the needle has hardly moved"
    assert "Pressure rises. Back to the list." in day.reply("pressure thirty, water half")
    assert "Drawing now?" not in day.silence(10.0)


def test_lit_too_soon_every_killer_is_asked_for_though_nobody_answers_the_first() -> None:
    day = Day("practice")
    day.tell("0:30 water half\n5:00 fire lit")
    assert "Brake on, chocked both ways, or not yet?" in day.heard_since(0).splitlines()[-1]
    said = day.silence(12.0)
    for asked in ("Gear: in or out?", "Regulator: open or shut?", "Safety valve: free, or held?"):
        assert asked in said
    day.tell("17:10 brake on and chocked\n17:20 water half, pressure zero")
    assert "Gear: in or out?" in day.silence(5.0), "the others stay open"


def test_low_water_with_the_fire_drawn_is_asked_for_without_a_word_of_feed() -> None:
    day = steaming("putting away", "pressure eighty")
    day.tell("1:00 water half, pressure eighty\n2:00 fire dropped\n4:00 water one third")
    day.reply("water a quarter, pressure fifty")
    said = day.silence(10.0)
    assert "Where is the water?" in said
    assert "Feed to" not in said and "Feed now" not in said


def test_drain_cocks_told_shut_before_a_long_stand_are_asked_for() -> None:
    day = steaming("tick-over", "pressure one hundred")
    day.tell(
        "1:00 water half, pressure one hundred\n1:10 everyone is clear\n1:20 drains open\n"
        "1:30 regulator open\n2:00 dry steam\n2:10 drains shut\n3:00 regulator shut\n"
        "5:00 water half, pressure one hundred\n9:00 water half, pressure one hundred\n"
        "13:00 water half, pressure one hundred\n17:00 people clear, water half"
    )
    assert "Open the drain cocks" in day.reply("regulator open")


def test_they_are_not_after_a_short_one() -> None:
    day = steaming("tick-over", "pressure one hundred")
    day.tell(
        "1:00 water half, pressure one hundred\n1:10 everyone is clear\n1:20 drains open\n"
        "1:30 regulator open\n2:00 dry steam\n2:10 drains shut\n3:00 regulator shut\n"
        "4:00 people clear"
    )
    assert "Open the drain cocks" not in day.reply("regulator open")


def test_priming_and_a_glass_that_stands_still_are_over_in_a_dead_boiler() -> None:
    day = steaming("tick-over", "pressure one hundred")
    day.tell(
        "1:00 water half, pressure one hundred\n2:00 knocking in the cylinder\n"
        "2:30 regulator shut\n2:40 drains open\n3:00 fire drawn\n15:00 water half, pressure forty"
    )
    assert "priming" in day.standing
    day.tell("30:00 water half, pressure zero")
    assert not {"priming", "glass motionless"} & set(day.standing)
    assert "Warning" not in day.silence(20.0)


def test_a_tank_told_full_is_full_at_once() -> None:
    day = steaming("standing by", "pressure one hundred")
    day.tell("1:00 water half, pressure one hundred\n2:00 tank empty\n3:00 tank full")
    assert "tank empty" not in day.standing


def test_a_valve_told_not_to_have_lifted_after_a_no_is_taken_back_too() -> None:
    day = taken_over("raising steam", "practice", "pressure one twenty", "fire is bright")
    day.tell("1:00 water half, pressure one twenty\n2:00 valve lifting")
    assert "is that right?" in day.reply("no the valve did not lift")
    day.reply("yes")
    assert "valve lifts early" not in day.standing


def behind_a_shut_damper() -> Day:
    day = taken_over("raising steam", "practice", "pressure fifty", "fire is bright")
    day.tell(
        "1:00 water half, pressure fifty\n2:00 damper is shut\n5:00 water half, pressure fifty"
    )
    return day


def test_a_pressure_that_comes_up_behind_a_shut_damper_asks_whether_it_is_stuck() -> None:
    day = behind_a_shut_damper()
    day.tell("9:00 water half, pressure fifty five\n13:00 water half, pressure sixty")
    assert "Is the damper stuck?" in day.heard
    assert "Damper is stuck" in day.reply("yes")


def test_at_the_valve_it_does_not_ask_that() -> None:
    day = steaming("tick-over", "pressure one twenty")
    day.tell(
        "1:00 water half, pressure one twenty five\n2:00 damper is shut\n"
        "3:00 water half, pressure one twenty five\n8:00 water half, pressure one forty"
    )
    assert "Is the damper stuck?" not in day.heard + day.silence(4.0)


def test_one_that_holds_asks_to_open_it() -> None:
    day = behind_a_shut_damper()
    said = day.reply("water half, pressure fifty two") + day.silence(4.0)
    assert "stuck" not in said
    assert "Open it, and see the fire." in said


def test_two_gauges_in_one_sentence_are_no_reading() -> None:
    day = steaming("standing by", "pressure one hundred")
    day.tell("1:00 water half, pressure one hundred")
    said = day.reply("pressure one hundred on one and one forty on the other")
    assert "Pressure one zero one" not in said


def test_a_second_gauge_that_shows_more_is_asked_about_with_no_firing() -> None:
    day = steaming("standing by", "pressure one hundred")
    day.tell("1:00 water half, pressure one hundred")
    said = day.reply("the second gauge reads one forty")
    assert "No firing" in said and "is that right?" in said


def test_a_leak_put_right_before_the_match_is_none_once_there_is_steam() -> None:
    day = Day("practice")
    day.tell(
        "0:30 water half\n1:00 brake on and chocked\n1:20 gear is out\n1:40 regulator shut\n"
        "2:00 drains open\n2:20 papers in date\n2:40 gloves on\n3:10 mud door is weeping"
    )
    day.tell("3:50 no leaks\n14:30 fire is lit\n34:00 pressure fifteen\n37:00 pressure twenty")
    day.tell("39:00 water half")
    assert not {"boiler leaking", "fire after a failure"} & set(day.standing)


def test_words_of_the_water_that_are_not_followed_ask_where_it_is() -> None:
    day = steaming("standing by", "pressure one hundred")
    day.tell("1:00 water half, pressure one hundred")
    assert day.reply("water is going mad") == "I did not follow. Where is the water?"
    assert "Where is the water?" not in day.reply("tank water is going mad")


def test_a_number_is_not_cut_at_an_and() -> None:
    day = steaming("raising steam", "pressure one hundred")
    day.tell("1:00 water half, pressure one hundred")
    said = day.reply("pressure a hundred and fifty and the safety's not moved")
    assert "Pressure one zero zero" not in said
    assert "one five zero" in said and "No firing" in said


def test_what_a_driver_says_of_the_red_line_is_of_the_pressure() -> None:
    for words in ("it's going past the red line", "she's over pressure"):
        day = steaming("raising steam", "pressure one hundred")
        day.tell("1:00 water half, pressure one hundred")
        assert "Pressure perhaps high. Read the gauge now. No firing" in day.reply(words)
        assert "engine is over" not in day.standing


def test_water_told_under_the_mark_is_low_water() -> None:
    for words in ("water is below the mark", "water is just on the bottom mark"):
        day = steaming("standing by", "pressure one hundred")
        day.tell("1:00 water half, pressure one hundred")
        assert "Danger. Water low. Stop the heat." in day.reply(words)


def test_a_warning_is_not_put_off() -> None:
    day = steaming("standing by", "pressure one hundred")
    day.tell("1:00 water half, pressure one hundred\n2:00 water low")
    assert day.reply("remind me later") == "A warning stays until it is put right."
    assert "Where is the water?" in day.silence(3.0)


def test_a_watch_handed_over_to_nobody_is_kept_by_nobody() -> None:
    day = steaming("standing by", "pressure one hundred")
    day.tell("1:00 water half, pressure one hundred\n2:00 nobody is watching her")
    day.reply("handing over the watch")
    assert "nobody watches her" in day.standing
    day.tell("5:00 handing over the watch\n5:10 Tom")
    assert "nobody watches her" not in day.standing


def test_she_is_not_emptied_under_steam() -> None:
    day = taken_over("putting away", "practice", "pressure sixty", "fire is drawn")
    day.tell("1:00 water half, pressure sixty")
    assert "Shut the blow-down now." in day.reply("blow down is open")
    assert day.reply("boiler is drained") == "Not under steam. Let her go cold first."


def test_people_and_gear_are_heard_with_the_regulator_open() -> None:
    for words, stands in (
        ("there's a kid by the flywheel", "regulator open, people near"),
        ("somebody's walked in front", "regulator open, people near"),
        ("she's gone into gear", "regulator open, in gear"),
    ):
        day = steaming("tick-over", "pressure one hundred")
        day.tell(
            "1:00 water half, pressure one hundred\n1:10 everyone is clear\n1:15 gear is out\n"
            "1:20 drains open\n1:30 regulator open"
        )
        day.reply(words)
        assert stands in day.standing, words


def test_fifths_and_a_level_just_seen_are_levels() -> None:
    day = steaming("standing by", "pressure one hundred")
    day.tell("1:00 water half, pressure one hundred")
    assert day.reply("water three fifths").startswith("Water six tenths.")
    assert "Danger. Water low." in day.reply("i can just see the water")
