"""Nobody answers whether the list is to follow the engine: it follows, says so, and can be undone.

Standing by is taken from any list while there is steam, in low water too.
"""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

QUESTION = "There is steam in her. Go on from raising steam?"
FOLLOWED = "Steam in her: raising steam. Say go back if not."

COLD = """
0:10 that's right
0:20 water four tenths
0:40 brake on and chocked
0:50 gear is out
1:00 regulator shut
1:10 cocks are open
12:00 fire lit
18:00 water half
"""


def lit(engine: str = "practice") -> Day:
    day = Day(engine)
    day.tell(COLD)
    return day


def test_unanswered_twice_over_a_gauge_that_moved_it_goes_on_and_says_so() -> None:
    day = lit("copper")
    day.tell("22:00 pressure five\n25:00 pressure fifteen")
    assert day.heard.count(QUESTION) == 1
    heard = day.tell("27:00")
    assert FOLLOWED in heard
    assert day.phase == "raising steam"
    assert "Taking over" not in heard
    assert "Valve lifted today" not in day.tell(
        "27:10 water half\n27:30 comes back at once\n27:40 pressure fifteen\n28:00 fire is built"
    )


def test_readings_that_leave_the_question_unanswered_move_it_too() -> None:
    day = lit()
    day.tell(
        """
        50:00 pressure seventeen
        50:20 pressure eighteen
        52:00 pressure twenty two
        52:20 water half
        54:00 pressure twenty six
        """
    )
    assert day.heard.count(QUESTION) == 2
    assert FOLLOWED in day.heard
    assert day.phase == "raising steam"


@pytest.mark.parametrize("words", ["go back", "take that back", "no"])
def test_he_undoes_it(words: str) -> None:
    day = lit()
    day.tell("22:00 pressure five\n25:00 pressure fifteen\n27:00")
    assert day.phase == "raising steam"
    day.reply(words)
    assert day.phase == "preparation"
    day.tell("28:00 pressure eighteen\n30:00 pressure twenty")
    assert day.phase == "preparation", "not again at once"


def test_no_needle_that_was_called_once_only_moves_the_list() -> None:
    day = lit()
    day.tell("25:00 pressure seventeen\n27:00")
    assert FOLLOWED not in day.heard
    assert day.phase == "preparation"


def test_no_keeps_the_list() -> None:
    day = lit()
    day.tell("22:00 pressure five\n25:00 pressure fifteen\n25:10 no\n27:00")
    assert day.phase == "preparation"


def test_standing_by_from_a_cold_list_with_steam_in_her() -> None:
    day = lit("copper")
    day.tell("25:00 pressure fifteen\n25:10 standing by")
    assert day.phase == "standing by"
    assert "raise steam first" not in day.heard


def test_without_steam_there_is_nothing_to_stand_by() -> None:
    day = lit()
    assert "Not from preparation: raise steam first." in day.tell("19:00 standing by")
    assert day.phase == "preparation"


def test_in_low_water_standing_by_is_taken_and_nothing_drives_her_after_it() -> None:
    day = taken_over("tick-over", "fullsize")
    day.tell("2:00 water just showing")
    assert day.dangers
    heard = day.tell("2:30 standing by")
    assert "The danger first" not in heard
    assert day.phase == "standing by"
    after = day.tell("3:00 water a third\n4:10 water a third\n5:00 water half\n7:00")
    assert "Reverser" not in after
    assert "Regulator open" not in after


def test_a_move_that_steams_her_waits_for_the_danger() -> None:
    day = taken_over("standing by", "fullsize")
    day.tell("2:00 water just showing")
    assert "The danger first" in day.tell("2:30 moving off")
