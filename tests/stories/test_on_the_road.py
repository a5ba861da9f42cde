"""Driven on purpose, running away and stopped, a valve screwed down, fluid on a fire."""

from __future__ import annotations

from day_story import Day, taken_over

FREED = "1:40 brake on and chocked\n2:00 people are clear\n2:10 brake is off\n2:20 drains open"


def test_on_the_road_nobody_is_told_at_each_turn_that_the_gear_is_in() -> None:
    day = taken_over("standing by")
    said = day.tell(f"{FREED}\n2:30 gear is in\n2:40 regulator open\n5:00")
    assert "Gear is in." not in said
    assert "regulator open, in gear" not in day.standing


def test_in_gear_on_chocks_it_is_said() -> None:
    day = taken_over("standing by")
    said = day.tell("1:40 brake on and chocked\n2:30 gear is in\n2:40 regulator open")
    assert "Warning. Regulator shut. Gear is in." in said


def test_she_has_stopped_ends_the_running_away_and_the_water_is_asked_for() -> None:
    day = taken_over("standing by")
    day.tell("2:00 engine is running away")
    assert "engine is running away" in day.dangers
    said = day.tell("2:30 she has stopped")
    assert "engine is running away" not in day.standing
    assert "Where is the water?" in said
    said = day.tell("2:50 water half\n5:00")
    assert "chocked" in said
    day.tell("5:10 running away")
    assert "engine is running away" in day.dangers, "told again, it is so again"


def test_a_valve_screwed_down_is_the_danger_with_steam_and_an_answer_cold() -> None:
    day = taken_over("standing by")
    assert "Damper and blower shut. Valve stuck." in day.tell("2:00 safety valve is screwed down")
    assert "safety valve is stuck" in day.dangers
    cold = Day()
    cold.tell("0:10 that's right\n0:20 water half")
    assert "Do not light." in cold.tell("0:40 safety valve is screwed down")
    assert not cold.dangers


def test_fluid_on_a_fire_is_answered_with_what_to_do() -> None:
    day = taken_over("raising steam")
    assert "Stand back from the door. No more fluid." in day.tell("2:00 paraffin on the fire")


def test_on_a_slope_no_level_is_compared_with_another() -> None:
    day = taken_over("standing by")
    day.tell(f"1:10 water five eighths\n{FREED}\n2:30 gear is in\n2:40 regulator open")
    said = day.tell("6:00 nose up\n6:20 water three quarters\n9:00 water half\n9:10 nose is down")
    said += day.tell("9:20 water three eighths\n12:00 water three eighths")
    assert "Find the leak" not in said
    assert "I cannot tell why" not in said
    day.tell("13:00 we are level now\n13:20 water half")
    assert "leak" not in " ".join(day.standing)


def test_told_to_be_quiet_on_a_slope_the_overdue_water_is_still_asked_for() -> None:
    day = taken_over("standing by", "fullsize", "pressure one hundred", "fire is bright")
    day.tell("1:00 water half\n5:00 nose down\n5:30 wait five minutes")
    assert "where is the water" in day.tell("6:00\n9:00").lower()
