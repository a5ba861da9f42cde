"""With a fire in she is left by hand-over, by a stop read back, or banked for the night."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

from assistant.messages import BANKED_END, Ended, Report

PEOPLE = ("Ann", "Bob")
LAST = "Banked for the night. Pressure forty, water half. Ann stays. Never leave her alone."


def standing(engine: str = "practice") -> Day:
    day = taken_over("standing by", engine, "pressure forty", people=PEOPLE)
    day.reply("damper shut", after_s=0.0)
    return day


def ended(day: Day) -> list[str]:
    return [e.reason for _, e in day.came if isinstance(e, Ended)]


@pytest.mark.parametrize("engine", ["practice", "copper", "fullsize"])
def test_banked_for_the_night_asks_what_is_not_known_young_enough_and_ends_the_book(
    engine: str,
) -> None:
    day = standing(engine)
    day.until(420.0)
    assert "Where is the water?" in day.reply("banked for the night", after_s=0.0)
    assert day.session.state.latest_is("fire", "banked")
    assert "What is the pressure?" in day.reply("water half")
    assert "Who stays with her?" in day.reply("pressure forty")
    said = day.reply("Ann")
    assert ended(day) == [BANKED_END]
    assert said == f"Ann has the watch. {LAST}"


def test_what_was_called_a_moment_ago_is_not_asked_again() -> None:
    day = standing()
    said = day.reply("banked for the night")
    assert "Who stays with her? Say the name." in said
    assert "Where is the water?" not in said


def test_a_name_that_is_not_known_is_a_note_and_ends_it_too() -> None:
    day = standing()
    day.reply("banked for the night")
    said = day.reply("Fred from the shed")
    assert ended(day) == [BANKED_END]
    assert "The one you named stays. Never leave her alone." in said


def test_nobody_goes_home_from_little_water_or_a_damper_nobody_spoke_of() -> None:
    day = taken_over("standing by", pressure="pressure forty", people=PEOPLE)
    day.tell("1:00 water three eighths, pressure forty")
    assert "Not yet: damper shut, water well up." in day.reply("banked for the night")
    assert "Not yet: water well up." in day.tell("1:30 damper shut\n1:40 Ann")
    assert not ended(day)
    assert "Banked for the night." in day.tell("6:00 water five eighths, pressure forty")
    assert ended(day) == [BANKED_END]


def test_without_a_name_it_never_ends_and_the_readings_go_on() -> None:
    day = standing()
    day.reply("banked for the night")
    said = day.silence(15.0)
    assert not ended(day)
    assert said.count("Who stays with her?") >= 2
    assert "Where is the water?" in said


def test_beside_a_danger_nobody_goes_home() -> None:
    day = standing()
    day.tell("1:30 no water in sight\n1:40 correct\n2:00 damper shut")
    said = day.reply("banked for the night")
    assert "Not with a danger standing: water out of sight." in said
    assert "Who stays" not in day.silence(3.0)
    day.reply("Ann has the watch")
    assert not ended(day)


def test_water_called_at_the_mark_on_the_way_home_is_a_danger_first() -> None:
    day = standing()
    day.until(420.0)
    day.reply("banked for the night", after_s=0.0)
    day.reply("pressure forty")
    day.reply("Ann has the watch")
    day.reply("no water in sight")
    day.reply("correct")
    assert not ended(day)
    assert "water out of sight" in day.dangers


@pytest.mark.parametrize("words", ["more coal on the fire", "fire drawn", "raising steam again"])
def test_a_fire_that_is_seen_to_again_is_not_banked_for_the_night(words: str) -> None:
    day = standing()
    day.reply("banked for the night")
    day.reply(words)
    day.reply("Ann has the watch")
    assert not ended(day)


def test_a_note_that_says_note_is_no_name() -> None:
    day = standing()
    day.reply("banked for the night")
    day.reply("note the left grate bar is burned")
    assert not ended(day)
    assert "Who stays with her?" in day.silence(3.0)


def test_no_list_is_asked_meanwhile() -> None:
    day = standing()
    day.reply("banked for the night")
    said = day.silence(4.0)
    assert "Drain cocks" not in said


def test_handed_over_the_day_goes_on_with_the_new_watch() -> None:
    day = standing()
    day.reply("Bob has the watch")
    assert not ended(day)
    assert "Where is the water?" in day.silence(8.0)
    assert day.session.state.latest_is("on watch", "Bob")


def test_wait_and_be_quiet_keep_nobody_from_the_glass() -> None:
    day = standing()
    assert "Not so long with a fire in. Five minutes." in day.reply("wait sixty minutes")
    assert "Where is the water?" in day.silence(8.0)
    day.reply("be quiet")
    assert "Where is the water?" in day.silence(8.0)


def test_the_fire_that_is_banked_stands_in_the_book_as_a_fact() -> None:
    day = standing()
    day.reply("banked for the night")
    told = [t.report for t in day.session.state.reports]
    assert told[-2:] == [Report("night", "banked"), Report("fire", "banked")]


@pytest.mark.parametrize("engine", ["practice", "copper", "fullsize"])
def test_over_steam_nobody_is_quiet_for_longer_than_the_water_waits_fire_told_of_or_not(
    engine: str,
) -> None:
    """Taken over with steam and no word of the fire: it must be taken to be in."""
    day = Day(engine, "raising steam")
    day.reply("water half")
    day.reply("pressure forty")
    assert day.reply("wait thirty minutes").startswith("Not so long with a fire in.")
