"""A feed that first gave nothing, and then does: what two readings show is not denied."""

from __future__ import annotations

from day_story import taken_over

NO_GAIN = frozenset({"feed dead", "no feed works", "no feed, urgent", "feed fails near the mark"})


def test_a_gain_seen_after_a_fall_ends_that_it_has_not_gained() -> None:
    """The bypass was not tight at first; then it is, and the glass comes up step by step."""
    day = taken_over("standing by", pressure="pressure one hundred and thirty")
    day.tell("1:00 water just under half\n2:00 bypass shut\n2:40 glass is not rising")
    day.tell("4:40 water a third\n6:00 water just over a quarter\n6:20 pressure one thirty")
    assert set(day.standing) & NO_GAIN
    said = day.tell("7:40 water a third\n9:10 water just under half\n9:15")
    assert not set(day.standing) & NO_GAIN
    assert "Glass has not gained" not in said and "No feed works" not in said
    later = day.tell("10:10 water half\n11:10 water five eighths\n13:20")
    assert "not gained" not in later and "by expansion" not in later


def test_a_glass_that_goes_up_and_down_again_has_not_gained() -> None:
    """Neighbour: one call a hair higher is no gain."""
    day = taken_over("standing by", pressure="pressure one hundred and thirty")
    day.tell("1:00 water half\n1:30 bypass shut\n4:00 water just under half\n6:00 water half")
    said = day.tell("8:00 water half\n10:00 water half\n10:10")
    assert set(day.standing) & (NO_GAIN | {"glass motionless"}), said


def test_an_injector_that_fails_is_off() -> None:
    """It is not asked of an hour later whether the glass has gained by it."""
    day = taken_over("standing by", "fullsize", pressure="pressure one hundred and thirty")
    day.tell("1:00 water half\n1:30 injector running\n2:00 injector fails\n3:00 water half")
    day.tell("6:00 water half\n9:00 water half\n12:00 water half")
    assert "feed dead" not in day.standing


def test_a_feed_against_a_valve_that_blows_may_leave_the_glass_where_it_is() -> None:
    """Four minutes of half, the feed in and the valve taking it out again: no dead glass."""
    day = taken_over("raising steam", "fullsize", pressure="pressure one seventy")
    day.tell("1:00 valve lifting\n1:10 pressure one eighty\n2:00 pressure one sixty")
    day.tell("3:50 feeding now\n4:00 water half\n5:00 pressure one forty\n6:00 valve shut")
    day.tell("6:10 pressure one thirty five\n6:30 water half\n7:00 feed stopped")
    said = day.tell("7:50 water half\n8:00")
    assert "Glass not moving" not in said


def test_a_feed_alone_that_leaves_it_where_it_is_does_not() -> None:
    day = taken_over("raising steam", "fullsize", pressure="pressure one forty")
    day.tell("1:50 injector running\n2:00 water half\n3:30 water half")
    day.tell("5:50 water half\n8:00 water half\n8:10")
    assert {"glass motionless", "feed dead"} & set(day.standing)
