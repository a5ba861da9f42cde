"""A safety valve told to be held is the danger in steam, in whatever words; cold an answer."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over


@pytest.mark.parametrize("words", ["safety valve stuck", "valve is gagged"])
def test_in_steam_it_is_the_danger(words: str) -> None:
    day = taken_over("raising steam", "copper", pressure="pressure seventy")
    day.tell("1:00 water half\n1:10 blower on")
    assert "Danger. Damper and blower shut. Valve stuck." in day.reply(words)
    assert "safety valve is stuck" in day.dangers
    assert "Damper nearly shut" not in day.reply("what next")


def test_cold_it_answers_the_list() -> None:
    day = Day()
    day.tell("0:10 that's right\n0:20 water half")
    day.reply("safety valve stuck")
    assert not day.dangers
