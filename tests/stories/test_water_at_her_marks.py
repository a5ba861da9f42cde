"""The water told by her marks is a reading like any other."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

ENGINE_MARKS = {"lower mark": 0.25, "upper mark": 0.85, "cold mark": 0.5, "mark": 0.25}


def level(day: Day) -> float | None:
    called = day.session.state.latest("water")
    assert called is not None
    return called.report.value if isinstance(called.report.value, float) else None


@pytest.mark.parametrize("mark", ENGINE_MARKS)
@pytest.mark.parametrize("words", ["water at the {}", "water is at the {}", "water on the {}"])
def test_each_mark_is_its_level(mark: str, words: str) -> None:
    day = taken_over("standing by")
    day.reply(words.format(mark))
    assert level(day) == pytest.approx(ENGINE_MARKS[mark])
    assert ("low water" in day.dangers) == (ENGINE_MARKS[mark] == 0.25)


UP_TO_THE_COLD_MARK = """
0:29 that's right
1:00 water three eighths
1:22 chocked both ways
1:42 it is out of gear
2:06 regulator shut
2:27 drain cocks open
2:52 ticket is in date
3:07 gloves and goggles on
4:33 dry all round
5:44 tube ends are dry
6:13 blow down is shut
6:30 valve is clear
6:52 zero pounds
7:19 right back up
"""


def test_where_the_cold_mark_is_asked_for_the_mark_is_that_one() -> None:
    day = Day()
    assert "to the cold mark. Water now?" in day.tell(UP_TO_THE_COLD_MARK)
    day.reply("water at the mark")
    assert level(day) == pytest.approx(0.5)
