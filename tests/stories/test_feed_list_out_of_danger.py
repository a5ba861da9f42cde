"""Feed is what is wanted, and the feed list is asked for: it opens, but where feed is forbidden."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

WANTED = "no feed, water falling"


def no_feed_and_falling(phase: str = "standing by") -> Day:
    """The injector has failed and the water falls; the geared pump is not tried."""
    day = Day("fullsize", phase)
    day.tell("""
        0:05 that's right
        0:10 water half
        0:15 comes back at once
        0:20 pressure one thirty
        0:25 valve agreed today
        0:30 fire is bright
        0:35 none tried today
        0:40 regulator shut
        0:45 brake on and chocked
        0:50 out of gear
        2:00 injector running
        2:20 injector blows back
        3:00 water a third
    """)
    assert day.dangers == {WANTED}
    return day


def test_beside_no_feed_and_water_falling_it_opens() -> None:
    day = no_feed_and_falling()
    said = day.tell("5:20 time to feed again")
    assert day.phase == "pumping"
    assert "The danger first" not in said
    said = day.tell("5:40 water a third\n5:50 tank three quarters\n6:30")
    assert "Everyone clear? Drains open: turn her over slowly." in said
    day.tell("6:40 damper shut\n6:50 everyone is clear\n6:55 drains open")
    said = day.reply("regulator open")
    assert "Danger" not in said, "she turns for her pump: no heat is put on"
    assert "Shut the bypass." in said


def test_it_opens_from_raising_steam_as_well() -> None:
    day = no_feed_and_falling("raising steam")
    day.tell("3:20 time to feed again")
    assert day.phase == "pumping"


def test_another_move_waits_for_the_danger() -> None:
    day = no_feed_and_falling()
    assert "The danger first." in day.tell("3:20 raising steam")
    assert day.phase == "standing by"


@pytest.mark.parametrize(
    "danger", ["clack is stuck open", "no water in sight\n3:05 yes", "glass has burst"]
)
def test_where_feed_is_forbidden_it_does_not(danger: str) -> None:
    day = taken_over("standing by", pressure="pressure ninety")
    day.tell(f"2:00 water half\n3:00 {danger}\n3:20 time to feed again")
    assert day.phase == "standing by"


def test_from_firing_with_steam_in_her() -> None:
    day = taken_over("firing", pressure="pressure one hundred")
    day.tell("1:00 no\n1:10 water half\n1:20 time to feed again")
    assert day.phase == "pumping"


def test_from_firing_without_steam_it_is_still_steam_first() -> None:
    day = Day(from_phase="firing")
    said = day.tell("0:10 water half\n0:20 time to feed again")
    assert "Not from firing: raise steam first." in said
    assert day.phase == "firing"
