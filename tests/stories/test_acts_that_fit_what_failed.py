"""What is asked for beside a feed, a tank, a glass or a draught that was told out of order."""

from __future__ import annotations

from day_story import steaming, taken_over


def test_near_the_mark_an_open_blow_down_is_shut_before_the_feed() -> None:
    day = steaming("raising steam", "pressure sixty")
    said = day.tell("1:00 water five eighths\n1:10 blow down is open\n2:00 water three eighths")
    assert "Caution. Water near lower mark. Shut blow-down, then feed." in said
    assert "Feed now" not in said


def test_no_other_feed_is_spoken_of_where_every_feed_has_failed() -> None:
    day = taken_over("raising steam", "fullsize", "pressure one hundred", "fire is bright")
    said = day.tell("1:00 water five eighths\n1:10 injector failed\n1:20 pump failed")
    assert "Pump trouble." in said
    assert "other feed" not in said
    one = taken_over("raising steam", "fullsize", "pressure one hundred", "fire is bright")
    assert "other feed" in one.tell("1:00 water five eighths\n1:20 pump failed")


def test_a_geared_pump_proved_today_holds_no_fire_up_while_she_stands() -> None:
    day = steaming("raising steam", "pressure sixty")
    said = day.tell("1:00 water half, pressure sixty\n1:20 hand pump failed\n9:00")
    after = said[said.index("Hand pump fails") :]
    assert "Damper shut" in after
    assert "lower on" not in after
    assert "Coal now" not in after


def test_no_water_half_heard_and_never_answered_wants_the_glass_and_no_feed() -> None:
    day = steaming("tick-over")
    said = day.tell("1:00 water three eighths\n2:00 water gone out the bottom here\n6:00")
    after = said[said.index("No water in sight: is that right?") :]
    assert "Warning. Where is the water? Water told low. No firing till it is called." in after
    assert "Feed now" not in after
    day.reply("water half")
    assert "water told low" not in day.standing


def test_the_cocks_shut_beside_a_broken_glass_are_its_own() -> None:
    day = steaming("tick-over")
    day.tell("1:00 glass has burst")
    assert "Glass cocks shut." in day.reply("cocks are shut")
    assert day.dangers >= {"level unknown"}


def test_a_yes_with_the_reading_behind_it_is_that_reading() -> None:
    day = steaming("raising steam", "pressure sixty")
    asked = day.tell("1:00 water half, pressure sixty\n2:00 pressure one hundred and ten")
    assert "is that right?" in asked
    assert "Pressure one one zero." in day.reply("yes, one hundred and ten")
    other = steaming("raising steam", "pressure sixty")
    other.tell("1:00 water half, pressure sixty\n2:00 pressure one hundred and ten")
    assert "Pressure seven zero" in other.reply("yes, seventy")


def test_a_tank_called_empty_that_feeds_after_all_is_no_feed_that_failed() -> None:
    day = steaming("tick-over")
    day.tell("1:00 water half\n2:00 tank empty\n2:30 water three eighths")
    assert day.dangers == {"no feed, water falling"}
    said = day.tell("3:00 pump is running\n4:00 water half\n6:00 water half")
    assert "No feed works" not in said
    assert "no feed, urgent" not in day.standing
    assert "tank empty" in day.standing


def test_she_does_not_move_with_a_full_glass() -> None:
    day = steaming("standing by")
    day.tell("1:00 water full")
    assert "Not with a full glass. Blow it through." in day.reply("moving off")
    assert day.phase == "standing by"


def test_a_great_fall_is_looked_into_though_a_feed_has_failed() -> None:
    day = steaming("raising steam", "pressure sixty")
    day.tell("1:00 water three quarters, pressure sixty\n2:00 hand pump failed")
    asked = day.tell("2:30 water three quarters\n3:30 water three eighths, pressure sixty")
    assert "is that right?" in asked
    day.reply("yes")
    said = day.tell("5:00 water three eighths, pressure sixty")
    assert "Warning. Water falls faster than use. Find the leak." in said
