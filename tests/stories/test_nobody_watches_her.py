"""It is called that nobody watches her: a danger until somebody does, or she is at rest."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

STAY = "Danger. Nobody watches her. Somebody stay with her."


def banked() -> Day:
    day = taken_over("standing by", pressure="pressure one ten", people=("Ann",))
    day.tell("1:00 water two thirds\n1:10 fire banked\n1:20 damper shut\n1:30 nobody is watching")
    return day


def test_it_is_a_danger_and_said_again() -> None:
    day = banked()
    assert STAY in day.heard and "Watch not kept" not in day.heard
    day.until(210.0)
    assert len(day.times_of(STAY)) >= 4
    assert STAY in day.reply("what next")


def test_a_damper_that_is_shut_does_not_watch_her() -> None:
    day = banked()
    day.tell("1:50 damper shut")
    assert STAY in day.silence(1.0)


@pytest.mark.parametrize("words", ["watch is kept", "i will watch her", "ann has the watch"])
def test_somebody_who_watches_ends_it(words: str) -> None:
    day = banked()
    day.tell(f"2:00 {words}")
    assert not day.dangers
    assert STAY not in day.silence(2.0)


def test_with_the_fire_out_and_the_gauge_at_rest_it_is_none() -> None:
    day = banked()
    day.tell("2:00 fire drawn\n40:00 pressure forty\n41:00 yes\n80:00 pressure zero")
    assert "nobody watches her" not in day.dangers
    cold = Day()
    cold.tell("0:30 water half\n0:40 nobody is watching")
    assert not cold.dangers


def test_over_steam_with_the_fire_out_it_is_still_one() -> None:
    day = banked()
    day.tell("2:00 fire drawn")
    assert "nobody watches her" in day.dangers


def test_where_everybody_is_sent_away_nobody_is_told_to_stay() -> None:
    day = banked()
    day.tell("2:00 tube has burst")
    assert STAY not in day.silence(3.0)
