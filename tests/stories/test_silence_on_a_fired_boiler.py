"""Fire in her, and nobody reads the glass: it is asked, then louder, whatever he has put aside."""

from __future__ import annotations

from itertools import pairwise

import pytest
from day_story import Day, taken_over

from assistant.messages import Grade


def test_copper_at_stand_put_aside_three_ways_is_a_danger_all_the_same() -> None:
    """Wait an hour, remind me later, be quiet: none lasts longer than the interval."""
    day = taken_over("standing by", "copper", "pressure sixty", "fire banked")
    day.tell("1:00 wait sixty minutes\n7:00 remind me later\n9:00 be quiet\n11:00 remind me later")
    day.tell("13:00")
    assert "water not read" in day.dangers
    late = [at for at in day.times_of("water") if at > 600.0]
    assert late and max(b - a for a, b in pairwise([*late, day.at])) <= 60.0


@pytest.mark.parametrize("engine", ["copper", "practice", "fullsize"])
def test_a_first_fire_in_a_cold_boiler_is_not_left_alone_for_long(engine: str) -> None:
    """The water was called, then the match; nothing more is heard of him."""
    day = Day(engine)
    day.tell("0:10 water half\n1:00 fire lit")
    said = day.silence(30.0)
    assert "Where is the water?" in said
    assert set(day.standing.values()) & {Grade.WARNING, Grade.DANGER}


def test_the_fire_drawn_with_steam_in_her_the_glass_is_still_wanted() -> None:
    day = taken_over("putting away", "practice", "pressure eighty", "fire drawn")
    day.silence(20.0)
    assert day.standing.get("water reading overdue") is Grade.WARNING, "she cools, and slowly"
    day.silence(20.0)
    assert "water not read" in day.dangers


def test_the_fire_dead_and_the_gauge_at_rest_it_is_quiet() -> None:
    """The other side: nothing presses, so nothing is shouted for the rest of the evening."""
    day = taken_over("putting away", "practice", "pressure five", "fire drawn")
    day.tell("2:00 fire is dead\n3:00 pressure zero\n5:00 pressure zero")
    said = day.silence(40.0)
    assert "Danger" not in said and "Warning" not in said
    assert not day.dangers


def test_pressure_called_again_and_again_is_not_a_glass_read() -> None:
    """He answers, but not what was asked: full size at work, the gauge every two minutes."""
    day = taken_over("tick-over", "fullsize", "pressure one hundred")
    for minute in range(2, 26, 2):
        day.tell(f"{minute}:00 pressure one hundred")
    assert "water not read" in day.dangers


def test_pressure_that_rises_without_a_word_of_fire_is_a_fire_over_water_never_seen() -> None:
    day = Day()
    day.tell("0:10 pressure zero\n5:00 pressure five\n10:00 pressure twenty\n12:00 pressure forty")
    day.silence(4.0)
    assert day.dangers
    assert "Look at the glass." in day.heard


@pytest.mark.parametrize("taken_back", ["wrong", "scratch that", "take that back"])
def test_the_only_water_reading_taken_back_the_fire_stands_over_water_unseen(
    taken_back: str,
) -> None:
    day = Day("copper")
    day.tell(f"0:10 water half\n0:15 {taken_back}\n0:40 fire lit")
    assert "fire in, water not seen" in day.standing
    times = day.times_of("water unseen")
    day.tell("3:00")
    assert len(day.times_of("water unseen")) >= len(times) + 2, "each minute at least"
    day.tell("5:00")
    assert "Stop the heat." in day.heard


def test_a_fire_kept_in_overnight_and_told_while_the_gauge_is_asked_for() -> None:
    """Warm start: the fire is told before anybody has looked at the glass."""
    day = Day("fullsize", "standing by")
    said = day.tell("0:10 fire banked\n0:30 pressure sixty")
    assert "Fire in, water unseen" in said
    day.tell("4:00")
    assert day.dangers
    day.tell("4:10 water half")
    assert not day.dangers
