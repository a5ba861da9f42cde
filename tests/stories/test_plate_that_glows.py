"""A plate that glows or bulges is the gravest call, whatever the glass shows."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over


def glowing(words: str) -> tuple[Day, str]:
    day = taken_over("raising steam", pressure="pressure eighty")
    day.tell("1:00 water half\n1:10 blower on")
    return day, day.reply(words)


@pytest.mark.parametrize(
    "words",
    [
        "the crown is red", "crown is red hot", "red plate in the firebox",
        "firebox crown is glowing", "bulge in the plate", "plate is bulging", "plate is red hot",
    ],
)  # fmt: skip
def test_it_is_understood_as_a_driver_would_say_it(words: str) -> None:
    day, said = glowing(words)
    assert "Danger. Everybody away. Plate red hot." in said
    assert "No feed, whatever the glass shows. Touch no steam valve." in said
    assert "plate is red hot" in day.dangers


def test_half_in_the_glass_neither_ends_it_nor_asks_for_feed_or_fire() -> None:
    day, _ = glowing("the crown is red")
    mark = len(day.came)
    day.tell("2:30 water half\n3:30 water half\n5:00 pressure eighty\n7:00 danger is over\n9:00")
    said = day.heard_since(mark)
    assert not any(words in said for words in ("Feed in good time", "Coal now", "Blower on"))
    assert "not to be steamed" in day.standing, "called over is not looked at"


def test_feed_put_on_is_stopped() -> None:
    day, _ = glowing("the crown is red")
    assert "Danger. Stop the feed." in day.reply("feed running", 20.0) + day.silence(1.5)
