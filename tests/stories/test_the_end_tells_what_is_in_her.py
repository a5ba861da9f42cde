"""It ends only after a yes to what is in her; ended by a key, that is said all the same."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

from assistant.messages import Ended, Order, Say, StopAsked

ASKED = "Fire in, sixty pounds, one minute ago: stop all the same?"


def standing() -> Day:
    day = taken_over("standing by", "practice", "pressure sixty")
    day.until(80.0)
    return day


def test_stop_is_read_back_with_what_is_in_her_and_ends_with_a_yes() -> None:
    day = standing()
    assert ASKED in day.reply("end the session", after_s=0.0)
    assert not day.got(Ended)
    said = day.reply("yes", after_s=5.0)
    assert day.got(Ended)
    assert "Session ended. Fire in, sixty pounds, one minute ago: keep watch." in said


def test_stop_that_was_heard_is_read_back_in_the_same_words() -> None:
    day = standing()
    day.sound((Order("stop"), 0.7), after_s=0.0)
    assert day.said() == [ASKED]


def test_unanswered_it_is_asked_once_more_in_the_same_words_and_then_it_goes_on() -> None:
    day = standing()
    day.reply("end the session", after_s=0.0)
    said = day.silence(4.0)
    assert said.count("stop all the same?") == 1
    assert "Where is the water?" in said
    assert not day.session.state.clock.over, "silence never confirms"


def test_no_is_no_end() -> None:
    day = standing()
    day.reply("end the session", after_s=0.0)
    day.reply("no", after_s=5.0)
    assert not day.session.state.clock.over


@pytest.mark.parametrize("engine", ["practice", "copper", "fullsize"])
def test_ended_by_a_key_or_the_end_of_input_it_says_what_is_in_her(engine: str) -> None:
    day = taken_over("standing by", engine, "pressure sixty")
    effects = day.event(StopAsked(day.at + 1.0))
    assert Ended("stopped") in effects
    texts = [e.text for e in effects if isinstance(e, Say)]
    assert texts == ["Session ended. Fire in, sixty pounds: keep watch."]


def test_a_cold_engine_ends_without_a_word_of_fire() -> None:
    day = Day()
    assert day.reply("end the session") == "End the session: is that right?"
    assert day.reply("yes") == "Session ended."


def test_steam_without_a_fire_is_in_her_too() -> None:
    day = taken_over("putting away", "practice", "pressure eighty", "fire drawn")
    day.until(50.0)
    assert day.reply("end the session", after_s=0.0) == "Eighty pounds: stop all the same?"


def test_steam_over_a_gauge_that_was_never_called_is_not_forgotten() -> None:
    day = Day()
    day.tell("0:10 water half\n1:00 fire lit\n20:00 valve lifting\n20:20 damper shut")
    assert "Fire in, steam in her: stop all the same?" in day.reply("end the session")


def put_away(fire: str) -> str:
    day = taken_over("putting away", "fullsize", pressure="pressure seventy", fire="fire is bright")
    day.tell(f"1:00 drains open\n1:20 water seven eighths\n2:00 fire is down\n2:30 {fire}")
    day.tell("3:00 chimney left open\n3:30 no blow down\n4:00 ash is out\n4:20 pipes are drained")
    day.tell("4:40 no frost tonight\n5:00 no repairs\n5:20 log signed\n5:30")
    return day.heard


def test_put_away_with_a_fire_that_is_watched_nobody_asks_for_a_dead_one() -> None:
    heard = put_away("somebody stays with the fire")
    assert "Fire in her: somebody stays. For the night say: banked for the night." in heard
    assert "gauge at nothing?" not in heard


def test_put_away_with_the_fire_dead_it_ends_as_the_list_has_it() -> None:
    assert "Fire dead, gauge at nothing? Then say: end the session." in put_away("fire is dead")
