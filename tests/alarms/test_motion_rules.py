"""Motion out of order and priming as the watch sees them."""

from __future__ import annotations

import pytest
from pressure_story import PressureStory, a_bright_fire  # type: ignore[import-not-found]


@pytest.fixture
def story() -> PressureStory:
    return a_bright_fire()


@pytest.mark.parametrize(
    ("what", "against", "right", "words"),
    [
        ("gear", "in", "out", "Warning. Regulator shut. Gear is in."),
        ("people", "near", "clear", "Warning. Regulator shut. Somebody is near."),
        ("drains", "shut", "open", "Warning. Regulator shut. Drains first."),
    ],
)
def test_opened_against_it(
    story: PressureStory, what: str, against: str, right: str, words: str
) -> None:
    assert story.state(what, against) == []
    assert story.state("regulator", "open") == [words]
    story.state(what, right)
    assert not story.watch.alarms
    story.state("regulator", "shut")
    assert story.state("regulator", "open") == []


def test_people_are_told_of_whatever_else_stands_against_it(story: PressureStory) -> None:
    near, in_gear = (
        "Warning. Regulator shut. Somebody is near.", "Warning. Regulator shut. Gear is in."
    )  # fmt: skip
    story.state("gear", "in")
    story.state("people", "near")
    assert story.state("regulator", "open") == [near, in_gear]
    story.state("people", "clear")
    assert {alarm.name for alarm in story.watch.alarms} == {"regulator open, in gear"}
    assert story.state("people", "near") == [near]


def test_drains_shut_on_water(story: PressureStory) -> None:
    story.state("drains", "open")
    story.state("regulator", "open")
    story.state("cylinder", "wet")
    assert story.state("drains", "shut") == ["Warning. Regulator shut. Drains first."]
    story.state("drains", "open")
    story.state("cylinder", "dry")
    assert story.state("drains", "shut") == []


def test_priming_stands_until_it_is_called_settled(story: PressureStory) -> None:
    words = "Warning. Drain cocks open. Regulator shut, gently."
    assert story.state("cure", "priming") == [words]
    story.state("priming", "still there")
    assert story.alarm("priming") is not None
    story.state("priming", "cured")
    assert story.alarm("priming") is None
