"""Gauge against valve as the watch sees it: when it is a danger, when a warning, what ends it."""

from __future__ import annotations

import pytest
from alarm_story import only  # type: ignore[import-not-found]
from pressure_story import PressureStory, a_bright_fire  # type: ignore[import-not-found]

from assistant.alarms.rules import BY_NAME
from assistant.messages import Grade


@pytest.fixture
def story() -> PressureStory:
    return a_bright_fire()


def test_stopping_the_heat_makes_the_danger_a_warning(story: PressureStory) -> None:
    story.at += 30
    story.state("valve", "lifting")  # sixty was called just before
    only(story, "valve over a dead gauge", Grade.DANGER)
    story.at += 30
    assert story.state("damper", "shut") == [], "the blower is on"
    assert story.state("blower", "shut") == ["Warning. Gauge not proved. Gauge cock open?"]
    assert story.names("cleared") == ["valve over a dead gauge"]
    story.at += 30
    assert story.state("blower", "open") == ["Danger. Valve lifts, gauge low. Stop the heat."]


def test_a_damper_shut_before_does_not_answer_it(story: PressureStory) -> None:
    story.state("damper", "shut")
    story.at += 30
    assert story.state("valve", "lifting") == ["Danger. Valve lifts, gauge low. Stop the heat."]


def test_an_unread_gauge_is_a_warning_after_one_minute_and_a_danger_after_two(
    story: PressureStory,
) -> None:
    story.psi(100)
    story.at += 400
    story.water(0.6)
    assert story.state("valve", "lifting") == []
    story.water(0.6)
    assert story.pass_s(60) == ["Warning. Valve moved. What does gauge show?"]
    assert story.pass_s(60) == ["Danger. Valve moved, gauge unread. Stop the heat."]
    story.psi(128)
    assert story.alarm("valve over an unread gauge") is None
    assert story.alarm("gauge not read at the valve") is None


def test_a_named_figure_ends_a_middle_conflict_and_no_danger(story: PressureStory) -> None:
    story.psi(100)
    story.at += 30
    story.state("valve", "lifting")
    assert story.alarm("gauge and valve disagree") is not None
    story.state("valve figure", "named")
    assert story.alarm("gauge and valve unsettled") is None
    story.psi(30)
    assert story.alarm("valve over a dead gauge") is not None


def test_a_lift_well_under_its_figure_is_a_caution(
    story: PressureStory,
) -> None:
    story.psi(125)
    story.at += 20
    assert story.state("valve", "feathering") == []
    story.at += 20
    early = "Caution. Valve moves early. Gauge low, or valve light?"
    assert early in story.state("valve", "lifting")
    assert story.alarm("gauge and valve disagree") is None
    story.state("valve", "shut")
    assert story.alarm("valve lifts early") is None


def test_a_feather_well_under_its_figure_is_the_same_caution(story: PressureStory) -> None:
    story.psi(122)  # she feathers at 132
    story.at += 20
    assert "Caution. Valve moves early. Gauge low, or valve light?" in story.state(
        "valve", "feathering"
    )
    story.state("valve", "shut")
    assert story.alarm("valve lifts early") is None


def test_a_lift_near_its_figure_or_at_a_figure_that_was_named_is_as_it_should_be(
    story: PressureStory,
) -> None:
    story.psi(140)
    story.state("valve", "lifting")
    assert story.alarm("valve lifts early") is None
    other = a_bright_fire()
    other.psi(125)
    other.state("valve figure", "named")
    other.state("valve", "lifting")
    assert other.alarm("valve lifts early") is None


def test_a_valve_that_contradicts_the_gauge_goes_before_a_leak() -> None:
    """Both are warnings, and within a grade the least time to respond goes first."""
    gauge, leak = BY_NAME["gauge and valve disagree"], BY_NAME["water falling faster than use"]
    assert gauge.grade is leak.grade
    assert gauge.respond_within_s < leak.respond_within_s
