"""Two presses within a second that contradict each other: the first counts, the second is asked."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

from assistant.commands.board import pressed


def press(day: Day, words: str, screen: str, after_s: float = 0.4) -> str:
    day.at += after_s
    day.event(pressed(words, screen, day.session, day.at))
    return day.text()


def steaming() -> Day:
    day = taken_over("raising steam", pressure="pressure eighty", fire="fire is bright")
    day.tell("1:00 pressure eighty, water half\n2:00")
    return day


def latest(day: Day, what: str) -> object:
    told = day.session.state.latest(what)
    return None if told is None else told.report.value


@pytest.mark.parametrize(
    ("what", "first", "second", "value"),
    [
        ("water", "water half", "water three eighths", 0.5),
        ("pressure", "pressure eighty", "pressure ninety", 80.0),
        ("damper", "damper open", "damper shut", "open"),
    ],
)
def test_the_first_counts_and_the_second_is_asked_about(
    what: str, first: str, second: str, value: object
) -> None:
    day = steaming()
    press(day, first, "the cab")
    said = press(day, second, "the tender")
    assert "Pressed otherwise just now?" in said and said.endswith("is that right?")
    assert latest(day, what) == value
    press(day, "yes", "the cab", after_s=3.0)
    assert latest(day, what) != value


def test_denied_the_first_stands() -> None:
    day = steaming()
    press(day, "damper open", "the cab")
    press(day, "damper shut", "the tender")
    press(day, "no", "the cab", after_s=3.0)
    assert latest(day, "damper") == "open"


def test_the_same_twice_or_later_than_a_second_is_taken() -> None:
    day = steaming()
    press(day, "damper open", "the cab")
    assert "is that right?" not in press(day, "damper open", "the tender")
    press(day, "damper shut", "the tender", after_s=1.5)
    assert latest(day, "damper") == "shut"


def test_right_and_wrong_pressed_together_takes_nothing_back_at_once() -> None:
    day = steaming()
    day.say("pressure five", after_s=5.0)
    assert "is that right?" in day.text()
    press(day, "yes", "the cab")
    assert "is that right?" in press(day, "no", "the tender")
    assert latest(day, "pressure") == 5.0
    press(day, "yes", "the cab", after_s=3.0)
    assert latest(day, "pressure") != 5.0


def test_said_and_not_pressed_nothing_is_asked_about() -> None:
    day = steaming()
    day.reply("damper open", after_s=1.0)
    day.reply("damper shut", after_s=0.5)
    assert latest(day, "damper") == "shut"
