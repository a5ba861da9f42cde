"""The water is lost, low, or read in a glass that proves nothing: what may follow and what not."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

from assistant.messages import Grade, PhaseBegan, ReadingDoubted

FEED = ("Feed now", "Prove the feed", "hand pump", "Try the injector", "Feed, if", "Feed in good")


def asks_for_feed(said: str) -> bool:
    return any(part in said for part in FEED)


def lost_while_ticking_over() -> Day:
    """Full size, working, coal on: the water goes into the bottom nut and he says it is so."""
    day = taken_over("tick-over", "fullsize", "pressure one hundred", "coal on the fire")
    day.tell("1:00 water in the bottom nut\n1:10 correct")
    assert day.dangers
    return day


def test_lost_at_work_the_injector_is_stopped_at_once() -> None:
    day = lost_while_ticking_over()
    assert "Stop the feed." in day.reply("injector running")
    day.tell("1:50 injector stopped\n2:10 damper shut")
    assert "Stop the heat." in day.heard


def test_water_that_comes_back_by_itself_allows_no_coal() -> None:
    """Back at half in two minutes without feed: doubt, and no fire made on it."""
    day = lost_while_ticking_over()
    said = day.tell("2:10 damper shut\n3:00 water half\n3:10 water half\n4:30 water half")
    assert not asks_for_feed(said)
    assert "above the mark again" not in said
    said = day.tell("4:40 coal on the fire")
    assert day.dangers, "coal on plates that may have been bare"
    assert "No fire" in said or "Stop the heat" in said


def test_lost_over_a_banked_fire_while_putting_away_and_found_half_an_hour_later() -> None:
    """A break does not make her fit to be steamed: only a person who has looked does."""
    day = taken_over("putting away", "copper", "pressure fifty", "fire banked")
    day.tell("1:00 lost the water\n1:10 correct\n2:00 damper shut")
    day.tell("30:00 water half\n31:30 water half")
    day.tell("32:00 fire lit")
    assert day.dangers, "lit again without a look"
    day.tell("32:30 fire drawn\n32:40 pressure nothing\n33:00 boiler has been looked at\n33:10 Ann")
    day.tell("34:00 water half\n35:10 water half\n35:20 fire lit")
    assert not {name for name in day.dangers if "lost" in name or "sight" in name}


def test_in_sight_below_the_mark_the_level_is_known() -> None:
    """An eighth, full size, fire banked: heat off; feed is the owner's matter, and not scolded."""
    day = taken_over("putting away", "fullsize", "pressure eighty", "fire banked")
    said = day.tell("1:00 water one eighth")
    assert day.dangers and "Stop the heat." in said
    assert "level is unknown" not in said
    assert "Stop the feed." not in day.tell("1:10 damper shut\n1:20 feed is running\n1:40")


def test_one_good_reading_after_it_is_not_enough_and_he_is_told_so() -> None:
    day = taken_over("standing by", "copper", "pressure eighty")
    day.tell("1:00 water one eighth\n1:10 damper shut\n1:20 feed is running")
    said = day.tell("4:00 water half")
    assert day.dangers
    assert "once more" in said or "again" in said, said
    day.tell("5:10 water half")
    assert not day.dangers


@pytest.mark.parametrize("phase", ["tick-over", "raising steam", "standing by"])
def test_near_the_mark_the_list_rests_and_no_minutes_are_told(phase: str) -> None:
    day = taken_over(phase, "copper", "pressure sixty", valve="valve not seen today")
    said = day.tell("2:00 water three eighths\n3:00 water one third")
    assert day.standing.get("water near the lower mark", Grade.CAUTION) >= Grade.CAUTION
    assert "lower mark" in said and "Feed now" in said
    said = day.tell("3:10 what next\n3:20 how long\n3:30 pressure sixty four\n5:00")
    lines = said.splitlines()
    assert not any("to wanted pressure" in line for line in lines)
    assert not any("whistle" in line or "Blower on" in line or "valve" in line for line in lines)


def test_moving_off_with_the_water_near_the_mark_is_not_done_in_silence() -> None:
    """Neighbour: it is he who wants to go on, not the list."""
    day = taken_over("standing by", "copper", "pressure eighty")
    day.tell("2:00 water three eighths\n3:00 water one third")
    said = day.reply("moving off")
    assert not day.got(PhaseBegan)
    assert "water" in said.lower()


def test_a_glass_that_burst_and_was_made_good_is_a_glass_that_was_never_proved() -> None:
    """At stand: a new glass shows half: blow it through first."""
    day = taken_over("standing by", "practice", "pressure sixty")
    day.tell("1:00 glass has burst\n1:30 damper shut\n3:00 new glass is in")
    said = day.tell("3:10 water half\n3:20 what next\n6:00")
    assert "blow" in said.lower() and "glass" in said.lower(), said


def test_with_the_glass_broken_nothing_asks_for_feed_and_he_is_asked_for_another_witness() -> None:
    day = taken_over("raising steam", "copper", "pressure fifty")
    said = day.tell("1:00 gauge glass broken\n1:20 damper shut\n4:00")
    assert "another way" in said
    assert not asks_for_feed(said)
    doubted = day.tell("6:30 water half")
    assert day.got(ReadingDoubted), "from what?"
    assert "right?" in doubted or "?" in doubted
    day.tell("6:40 yes")
    assert day.phase == "raising steam" and day.dangers, "the glass is still broken"


def test_moving_off_and_steam_are_refused_while_the_glass_is_broken() -> None:
    day = taken_over("standing by", "copper", "pressure eighty")
    day.tell("1:00 glass has burst\n1:20 damper shut")
    for words in ("moving off", "raising steam again", "time to feed again"):
        day.reply(words)
        assert not day.got(PhaseBegan), words


def test_a_glass_called_full_is_not_named_full_once_it_was_called_lower() -> None:
    day = taken_over("raising steam", pressure="pressure sixty")
    day.tell("1:00 water full\n2:00 water three quarters")
    assert "Glass full" not in day.reply("alarm understood", 5.0)
    day = taken_over("raising steam", pressure="pressure sixty")
    day.tell("1:00 water full")
    assert "Heard. Glass full still stands." in day.reply("alarm understood", 5.0)
