"""A low level that was misread: what is asked for, and how the danger ends."""

from __future__ import annotations

from day_story import Day, taken_over

ACTS = "Away from the firehole."


def low_then_half() -> tuple[Day, str]:
    """Low by one call, the heat stopped, and half a glass by the next."""
    day = taken_over("tick-over", pressure="pressure one hundred", fire="fire is bright")
    day.tell("1:00 water three quarters, pressure one hundred\n4:00 water one eighth")
    day.tell("4:20 damper shut\n4:25 blower shut")
    return day, day.tell("5:10 water five eighths")


def test_a_level_that_nothing_explains_has_the_glass_blown_through_at_once() -> None:
    day, said = low_then_half()
    assert "Danger. Doubt the glass. Blow it through." in said
    assert day.heard.count(ACTS) == 1
    assert "low water" in day.standing


def test_in_a_glass_proved_since_one_level_ends_low_water() -> None:
    day, _ = low_then_half()
    day.tell("5:30 glass comes back at once")
    assert "low water" in day.standing
    assert "Water above the mark again." in day.tell("5:50 water five eighths")
    assert "low water" not in day.standing
    day.tell("7:00 water five eighths\n8:30 water five eighths")
    assert "glass rises by itself" not in day.standing


def test_without_that_proof_no_level_that_nothing_explains_ends_it() -> None:
    day, _ = low_then_half()
    day.tell("6:30 water five eighths\n7:30 water five eighths")
    assert "low water" in day.standing


def test_a_glass_proved_before_the_low_level_does_not_end_it() -> None:
    day = taken_over("tick-over", pressure="pressure one hundred", fire="fire is bright")
    day.tell("1:00 water three quarters\n3:50 glass comes back at once\n4:00 water one eighth")
    day.tell("4:20 damper shut\n4:25 blower shut\n5:10 water five eighths")
    assert "low water" in day.standing


def test_a_glass_proved_after_it_and_low_again_is_low() -> None:
    day, _ = low_then_half()
    day.tell("5:30 glass comes back at once\n5:50 water one eighth\n7:00 water half")
    assert "low water" in day.standing
