"""A step that tries a feed waits while the water is near the upper mark."""

from __future__ import annotations

from day_story import Day, taken_over

TRIED = "Work the hand pump: does it take?"


def raising(water: str) -> Day:
    day = taken_over("raising steam", "copper", pressure="pressure seventy")
    day.tell(f"0:50 {water}\n1:00 blower half open\n2:00 pressure eighty\n3:00 {water}")
    return day


def test_it_waits_while_there_is_no_room_and_comes_when_there_is() -> None:
    day = raising("water seven eighths")
    day.tell("3:30 blower cracked\n3:40 damper cracked\n5:00 water seven eighths")
    assert "water near the upper mark" in day.standing
    assert not day.times_of(TRIED)
    day.tell("6:00 water half\n6:30 water half\n7:30 water half\n9:00 pressure eighty four")
    assert day.times_of(TRIED)


def test_with_room_it_is_asked_for() -> None:
    assert raising("water half").times_of(TRIED)
