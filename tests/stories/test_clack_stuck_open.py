"""The clack is stuck open: she empties through her feed pipe, and nobody asks for feed."""

from __future__ import annotations

import re

from day_story import Day, taken_over

PUMP = "Danger. Stop the pump. Clack stuck open."
NO_FEED = "Danger. No feed. Stop the heat. Everybody away."


def stuck(before: str = "2:00 water half") -> Day:
    day = taken_over("standing by", pressure="pressure ninety", fire="fire is bright")
    day.tell("1:00 drains open\n1:10 damper nearly shut\n1:20 i will watch her")
    day.tell(f"{before}\n5:00 clack is stuck open")
    return day


def asks_feed(said: str) -> bool:
    return bool(re.search(r"feed now|feed in|bring the water|pumping now", said, re.IGNORECASE))


def test_no_alarm_no_list_no_answer_asks_for_feed() -> None:
    day = stuck("2:00 water half\n3:00 pump trouble\n4:00 water a third")
    mark = len(day.came)
    day.tell("5:40 water a third\n7:00 water just over a quarter\n9:00 what next\n12:00")
    said = day.heard_since(mark)
    assert not asks_feed(said), said


def test_water_that_falls_there_is_the_heat_and_everybody_away() -> None:
    day = stuck()
    assert PUMP in day.heard and NO_FEED not in day.heard
    assert f"{NO_FEED} Water falling." in day.reply("water just under half", 20.0)
    assert f"{NO_FEED} Water falling." in day.silence(1.0)


def test_water_that_stands_there_is_only_the_pump() -> None:
    day = stuck()
    said = day.reply("water half", 20.0) + day.silence(2.0)
    assert PUMP in said and NO_FEED not in said


def test_near_the_mark_already_it_is_said_after_its_acts() -> None:
    day = stuck("2:00 water half\n4:00 water just over a quarter")
    assert PUMP in day.heard and NO_FEED not in day.heard
    assert f"{NO_FEED} Water near the lower mark." in day.silence(1.0)


def test_feed_put_on_there_is_opposed_and_not_read_back() -> None:
    day = stuck()
    assert day.reply("feed running", 15.0) == PUMP
    day.tell("6:00 feed stopped\n6:10 water just under half")
    assert day.reply("feed running").splitlines()[0] == f"{NO_FEED} Water falling."


def test_feed_put_on_over_a_level_unknown_is_not_read_back_either() -> None:
    day = taken_over("standing by", pressure="pressure ninety")
    day.tell("2:00 glass has burst\n2:20 both cocks shut")
    assert day.reply("feed running") == "Danger. Stop the feed. Level unknown."


def test_no_word_ends_it_before_a_level_has_held() -> None:
    day = stuck()
    day.tell("5:30 stop valve is shut")
    assert "still stands" in day.reply("danger is over")
    day.tell("7:00 water a third")
    assert "still stands" in day.reply("danger is over"), "it falls"
    assert "Feed now" not in day.silence(1.0)
    day.reply("water a third")
    assert "clack is stuck open" not in day.standing, "told over, and the level has held since"


def test_over_it_is_a_day_like_others() -> None:
    day = stuck("2:00 water half\n4:00 water a third")
    day.tell("6:00 water a third\n6:20 danger is over")
    assert "Feed now" in day.silence(3.0)
    assert day.reply("feed running") == "The feed is running."
