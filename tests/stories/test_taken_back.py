"""A report called wrong: what it was is asked for, and the list waits for that."""

from __future__ import annotations

import pytest
from day_story import taken_over


@pytest.mark.parametrize("reading", ["water a tenth", "water out of sight", "pressure ninety"])
def test_the_list_waits_for_the_reading_that_was_called_wrong(reading: str) -> None:
    day = taken_over("raising steam", pressure="pressure fifty")
    day.tell("1:00 blower on\n1:10 water half\n2:00 pressure sixty\n2:10 water half")
    day.reply(reading, 60.0)
    mark = len(day.came)
    day.reply("wrong", 3.0)
    day.silence(0.2)
    said = day.heard_since(mark).splitlines()
    assert said[-1].endswith("?"), said
    assert sum(line.endswith("?") for line in said) == 1
    assert not any("Coal" in line or "Blower" in line or "hand pump" in line for line in said)


def test_the_list_goes_on_with_the_right_reading() -> None:
    day = taken_over("raising steam", pressure="pressure fifty")
    day.tell("1:00 blower on\n1:10 water half\n2:00 pressure sixty\n3:00 water a tenth\n3:03 wrong")
    assert "hand pump" in day.reply("water half", 5.0) + day.silence(0.5)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("it takes", "Hand pump works."),
        ("hand pump takes", "Hand pump works."),
        ("it does not take", "Damper shut. Say pump trouble."),
    ],
)
def test_does_it_take_is_answered_in_its_own_words(words: str, said: str) -> None:
    day = taken_over("raising steam", pressure="pressure sixty")
    day.tell("1:00 blower on\n1:10 water half\n1:40 coal on\n2:30 extension is off")
    assert said in day.reply(words, 30.0)
