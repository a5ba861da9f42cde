"""A valve that lifts where it should, and goes on lifting as the pressure falls."""

from __future__ import annotations

from day_story import Day, taken_over

NAME = "valve does not reseat"


def lifting() -> Day:
    day = taken_over("standing by", pressure="pressure one hundred and thirty")
    day.tell(
        "1:00 water half\n1:10 pressure one forty\n2:00 valve lifting\n2:10 pressure one forty four"
    )
    return day


def test_fallen_by_its_blow_down_it_lifts_neither_early_nor_too_long() -> None:
    """Practice: lift 145. A tenth below it a pop valve may still blow."""
    day = lifting()
    said = day.tell("3:00 pressure one thirty\n3:30")
    assert "lifts early" not in said and "reseat" not in said


def test_fallen_by_more_it_does_not_reseat_and_takes_the_water() -> None:
    day = lifting()
    said = day.tell("3:00 pressure one thirty\n5:00 pressure one fifteen")
    assert "Warning. Valve does not reseat. Watch the glass. Water goes with the steam." in said
    assert "lifts early" not in said
    assert day.reply("how long") == "No time while the valve does not reseat."
    day.tell("6:00 water half\n6:30 valve shut")
    assert NAME not in day.standing


def test_told_shut_it_may_fall_as_far_as_it_will() -> None:
    day = lifting()
    said = day.tell("2:50 valve shut\n3:00 pressure one thirty\n5:00 pressure one fifteen")
    assert "reseat" not in said


def test_a_lift_told_long_ago_has_shut_again() -> None:
    day = lifting()
    said = day.tell(
        "5:00 water half\n8:00 water half\n11:00 water half\n14:00 pressure one hundred"
    )
    assert "reseat" not in said


def test_one_that_lifts_early_is_still_said_to() -> None:
    day = taken_over("standing by", pressure="pressure one hundred and twenty")
    said = day.tell("1:00 pressure one twenty five\n1:20 valve lifting\n1:40")
    assert "Valve moves early" in said
