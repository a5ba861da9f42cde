"""A fire told to be out that the gauge shows again; a caution that one call no longer bears out."""

from __future__ import annotations

from day_story import taken_over


def test_a_danger_is_back_with_the_very_call_that_shows_the_fire() -> None:
    day = taken_over("raising steam", pressure="forty")
    day.tell(
        "2:00 no water in sight\n2:30 fire drawn\n6:00 pressure forty five\n12:00 pressure fifty"
    )
    assert "Danger. No heat, keep away. No water in sight." in day.tell("18:00")
    said = day.tell("18:30 pressure eighty").splitlines()
    assert "Danger. Stop the heat. No water in sight." in said


def test_water_near_the_upper_mark_is_not_named_after_a_lower_call() -> None:
    day = taken_over("raising steam")
    day.tell("2:00 water seven eighths")
    assert "water near the upper mark" in day.standing
    day.tell("3:00 water five eighths")
    assert "water near the upper mark" in day.standing, "one call does not end it"
    assert "upper mark" not in day.tell("3:10 alarm heard")


def test_a_bright_fire_over_doubted_water_is_a_danger_with_the_very_call() -> None:
    day = taken_over("tick-over", "fullsize", "pressure one hundred", "coal on the fire")
    day.tell(
        "1:00 water in the bottom nut\n1:10 correct\n2:10 damper shut\n2:20 blower off\n"
        "3:00 water half\n3:10 water half\n4:30 water half\n5:00 fire drawn\n8:00 pressure eighty"
    )
    assert "Danger. Water doubted. No heat, no feed." in day.reply("fire is bright", 20.0)
    assert "Danger. Water doubted." in day.silence(1.5), "and again"
