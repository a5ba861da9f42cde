"""Alarms of pressure, gauge, valve and fire, as a driver would meet them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from alarm_story import ENGINE, only  # type: ignore[import-not-found]
from pressure_story import (  # type: ignore[import-not-found]
    PressureStory as Story,
)
from pressure_story import a_bright_fire

from assistant.messages import Grade


@pytest.fixture
def steaming() -> Story:
    return a_bright_fire()


@pytest.fixture
def cold() -> Story:
    return Story()


def test_pressure_runs_above_the_lift_and_the_valve_does_nothing(steaming: Story) -> None:
    steaming.state("damper", "shut")
    steaming.state("blower", "shut")
    silent = "Warning. Valve should move by now. Does it?"
    for psi, said in ((130, []), (144, [silent]), (145, [])):
        steaming.at += 30
        assert steaming.psi(psi) == said
    steaming.at += 30
    assert steaming.psi(146) == ["Danger. Pressure above the lift. Stop the heat."]
    assert steaming.names("raised") == ["valve silent", "over-pressure"]


def test_over_the_lift_a_valve_said_to_be_shut_is_a_danger_at_once(steaming: Story) -> None:
    steaming.state("damper", "shut")
    steaming.state("blower", "shut")
    steaming.at += 60
    steaming.psi(147)  # asked: does it lift?
    steaming.at += 10
    assert steaming.state("valve", "shut") == ["Danger. Pressure above the lift. Stop the heat."]


def test_at_the_lift_one_reading_waits_for_the_answer(steaming: Story) -> None:
    steaming.state("damper", "shut")
    steaming.state("blower", "shut")
    steaming.at += 60
    steaming.psi(147)
    assert steaming.alarm("over-pressure") is None
    steaming.at += 10
    assert steaming.state("valve", "lifting") == []
    steaming.at += 30
    assert steaming.psi(149) == []


def test_a_valve_that_lifts_is_doing_its_work_up_to_six_per_cent(steaming: Story) -> None:
    steaming.state("damper", "shut")
    steaming.state("blower", "shut")
    steaming.at += 60
    steaming.psi(145)
    assert steaming.state("valve", "lifting") == []
    steaming.at += 30
    assert steaming.psi(150) == []
    steaming.at += 30
    assert steaming.psi(155) == ["Danger. Pressure above the lift. Stop the heat."]


def test_the_valve_lifts_early(steaming: Story) -> None:
    steaming.at += 60
    steaming.psi(100)
    steaming.at += 10
    assert steaming.state("valve", "lifting") == [
        "Warning. Gauge and valve disagree. Stop the heat."
    ]
    only(steaming, "gauge and valve disagree", Grade.WARNING)


def test_the_gauge_cock_is_shut_and_the_valve_lifts(steaming: Story) -> None:
    for _ in range(4):
        steaming.at += 240
        steaming.water(0.62)
        steaming.psi(60)
    steaming.at += 100
    assert steaming.state("valve", "feathering") != []
    steaming.at += 20
    steaming.psi(60)
    only(steaming, "valve over a dead gauge", Grade.DANGER)


def test_the_valve_moves_where_it_should(steaming: Story) -> None:
    steaming.state("damper", "half")
    steaming.state("blower", "shut")
    steaming.at += 60
    steaming.psi(131)
    steaming.at += 10
    assert steaming.state("valve", "feathering") == []


def test_a_valve_without_a_feather_is_measured_against_its_lift(steaming: Story) -> None:
    engine = replace(ENGINE, valve_feathers_gauge_pa=None)
    steaming.inputs = replace(steaming.inputs, engine=engine)
    steaming.state("damper", "half")
    steaming.state("blower", "shut")
    steaming.at += 60
    steaming.psi(135)  # above 0.93 of 145
    steaming.at += 10
    assert steaming.state("valve", "lifting") == []
    steaming.at += 300
    steaming.psi(125)  # would do for a feather of 132
    steaming.at += 10
    assert steaming.state("valve", "feathering") != []


def test_without_a_reading_at_that_moment_nothing_is_claimed(steaming: Story) -> None:
    steaming.at += 310
    steaming.water(0.6)
    assert steaming.state("valve", "feathering") == []
    steaming.at += 40
    assert steaming.psi(100) == ["Warning. Gauge and valve disagree. Stop the heat."]


def test_the_fire_dies_after_coaling(steaming: Story) -> None:
    steaming.state("fire", "coal")
    for seconds, psi in ((120, 59), (120, 57)):
        steaming.at += seconds
        assert steaming.psi(psi) == [], "the coal explains it"
    steaming.at += 300
    steaming.water(0.6)
    assert steaming.psi(52) == ["Caution. Pressure falling. Blower on, then look."]
    only(steaming, "pressure falling", Grade.CAUTION)


def test_a_feed_explains_falling_pressure(steaming: Story) -> None:
    for _ in range(2):
        steaming.at += 300
        steaming.water(0.6)
    steaming.psi(70)
    steaming.state("feed", "on")
    steaming.at += 60
    assert steaming.psi(64) == []


def test_the_blower_is_left_on(steaming: Story) -> None:
    steaming.state("damper", "shut")
    steaming.at += 140
    assert steaming.psi(105) == [], "now the list asks for it"
    steaming.at += 140
    assert steaming.psi(121) == ["Caution. Blower still on. Down to a crack."]
    steaming.at += 20
    assert steaming.state("blower", "shut") == []
    assert steaming.names("cleared") == ["blower left on"]


def test_pressure_runs_up_with_everything_open(steaming: Story) -> None:
    steaming.at += 120
    steaming.psi(119)
    steaming.at += 120
    assert steaming.psi(126) == ["Warning. Pressure high. Damper shut, blower down."]
    assert steaming.suppressed() == ["blower left on"]


def test_pressure_comes_too_fast_for_a_cold_boiler(steaming: Story) -> None:
    story = Story(at=0.0)
    story.state("fire", "built")
    story.psi(5)
    story.at += 120
    assert story.psi(35) == ["Caution. Pressure rising fast. Damper nearly shut."]


def test_without_an_owners_limit_nothing_is_too_fast() -> None:
    story = Story(at=0.0)
    story.inputs = replace(story.inputs, engine=replace(ENGINE, rise_limit_pa_per_s=None))
    story.state("fire", "built")
    story.psi(5)
    story.at += 120
    assert story.psi(55) == []


def test_a_driver_lets_it_sit_near_the_valve(steaming: Story) -> None:
    """Above working pressure and hunting by a pound is no alarm; rising on is one."""
    steaming.state("blower", "shut")
    for psi in (110, 119, 121, 122, 121, 122, 123, 124):
        steaming.at += 200
        steaming.water(0.6)
        assert steaming.psi(psi) == [], psi
    steaming.at += 200
    steaming.water(0.6)
    assert steaming.psi(128) == ["Warning. Pressure high. Damper shut, blower down."]


def test_a_leap_from_below_is_the_lists_business_but_not_at_the_lift(steaming: Story) -> None:
    steaming.state("blower", "shut")
    steaming.at += 140
    steaming.psi(95)
    steaming.at += 140
    assert steaming.psi(125) == [], "the list asks for the damper with this very reading"
    other = a_bright_fire()
    other.state("blower", "shut")
    other.at += 140
    other.psi(95)
    other.at += 140
    assert other.psi(146) == [
        "Warning. Pressure high. Damper shut, blower down.",
        "Warning. Valve should move by now. Does it?",
    ]


def test_steam_is_seen_and_the_gauge_shows_nothing(cold: Story) -> None:
    cold.water(0.5)
    cold.state("fire", "built")
    cold.psi(0)
    cold.at += 60
    assert cold.state("vent", "steam") == []
    cold.at += 120
    assert cold.psi(0) == [], "it may take a moment"
    cold.at += 120
    assert cold.psi(0) == ["Caution. Gauge not moved yet. Gauge cock open?"]
    only(cold, "gauge not moving", Grade.CAUTION)


def test_a_dying_fire_is_told_once_and_not_at_every_reading(steaming: Story) -> None:
    for psi in (60, 60, 60, 55, 55, 50, 50, 45, 45, 40):
        steaming.at += 240
        steaming.water(0.6)
        steaming.psi(psi)
    assert steaming.names("raised") == ["pressure falling"], steaming.changes
    for psi in (42, 45):
        steaming.at += 240
        steaming.water(0.6)
        steaming.psi(psi)
    assert steaming.names("cleared") == ["pressure falling"]


def test_the_valve_lifts_late_and_the_danger_is_the_first_cause(steaming: Story) -> None:
    steaming.state("damper", "shut")
    steaming.state("blower", "shut")
    steaming.at += 100
    steaming.psi(135)
    steaming.state("valve", "feathering")
    steaming.at += 60
    assert steaming.psi(160) == ["Danger. Pressure above the lift. Stop the heat."]
    only(steaming, "over-pressure", Grade.DANGER)


def test_a_reading_long_before_the_valve_moved_says_nothing_about_it(steaming: Story) -> None:
    steaming.state("damper", "shut")
    steaming.state("blower", "shut")
    steaming.psi(110)
    steaming.at += 100
    assert steaming.state("valve", "feathering") == [], "the gauge has risen since"
    steaming.at += 20
    assert steaming.psi(112) == ["Warning. Gauge and valve disagree. Stop the heat."]


def test_the_gauge_does_not_move_long_after_lighting(cold: Story) -> None:
    cold.water(0.5)
    cold.state("fire", "lit")
    cold.see(first_steam_by=3000.0)
    for cold.at in (800, 1600, 2400, 2900):
        cold.water(0.5)
    assert cold.psi(0) == []
    cold.at = 3100
    assert cold.psi(0) == ["Caution. Gauge not moved yet. Gauge cock open?"]
    cold.at = 3200
    cold.psi(6)
    assert cold.names("cleared") == ["gauge not moving"]


STUCK = "Warning. Valve lifts, damper shut. Damper stuck?"
LIFTS_SHUT = "lifts with the damper shut"


def damped(story: Story) -> None:
    """At the lift, everything shut."""
    story.state("blower", "shut")
    story.state("damper", "shut")
    story.psi(145)


@pytest.mark.parametrize(
    ("first_s", "second_s", "raised"),
    [(250, 290, [LIFTS_SHUT]), (230, 290, []), (250, 310, [])],
)
def test_two_lifts_behind_a_shut_damper_ask_for_the_damper(
    steaming: Story, first_s: float, second_s: float, raised: list[str]
) -> None:
    damped(steaming)
    steaming.at += first_s
    assert STUCK not in steaming.state("valve", "lifting")
    steaming.at += second_s
    assert (STUCK in steaming.state("valve", "lifting")) == bool(raised)
    assert [name for name in steaming.names("raised") if name == LIFTS_SHUT] == raised


def test_with_the_blower_on_a_shut_damper_proves_nothing(steaming: Story) -> None:
    damped(steaming)
    steaming.state("blower", "half")
    for _ in range(3):
        steaming.at += 200
        steaming.state("valve", "lifting")
    assert LIFTS_SHUT not in steaming.names("raised")


def test_it_ends_when_the_valve_has_not_lifted_for_five_minutes(steaming: Story) -> None:
    damped(steaming)
    for _ in range(2):
        steaming.at += 250
        steaming.state("valve", "lifting")
    assert steaming.alarm(LIFTS_SHUT) is not None
    steaming.pass_s(310)
    assert LIFTS_SHUT in steaming.names("cleared")
