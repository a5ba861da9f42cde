"""Alarms of the water, its glass and its feed, as a driver would meet them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from alarm_story import Story, only  # type: ignore[import-not-found]

from assistant.messages import Grade


def test_water_at_the_lower_mark(steaming: Story) -> None:
    steaming.at += 200
    assert steaming.water(0.25) == ["Danger. Water low. Stop the heat."]
    only(steaming, "low water", Grade.DANGER)


def test_water_below_the_mark_before_there_is_a_fire_is_no_alarm(cold: Story) -> None:
    assert cold.water(0.1) == [] and cold.water("out of sight") == []
    cold.at += 60
    assert cold.state("fire", "lit") == ["Danger. Stop the heat. No water in sight."]


def test_no_water_in_sight(steaming: Story) -> None:
    steaming.at += 200
    assert steaming.water("out of sight") == ["Danger. Stop the heat. No water in sight."]
    only(steaming, "water out of sight", Grade.DANGER)


def test_water_falls_with_the_bypass_open(steaming: Story) -> None:
    steaming.at += 60
    steaming.water(0.6)
    steaming.state("feed", "on")
    steaming.at += 180
    assert steaming.water(0.55) == ["Warning. Water falling, feed on. Check the feed."]
    only(steaming, "water falling with feed on", Grade.WARNING)


def test_a_stuck_ball_shows_as_a_glass_that_does_not_gain(steaming: Story) -> None:
    steaming.state("feed", "on")
    steaming.at += 240
    steaming.see(glass_moves=0.2)
    assert steaming.water(0.6) == ["Warning. Glass not moving. Blow it through."]
    only(steaming, "glass motionless", Grade.WARNING)


def test_water_fell_before_the_feed_was_put_on(steaming: Story) -> None:
    steaming.at += 240
    steaming.state("feed", "on")
    steaming.at += 30
    assert steaming.water(0.55) == []


def test_the_glass_is_over_full(steaming: Story) -> None:
    steaming.at += 100
    assert steaming.water(1.0) == ["Warning. Glass full, or empty? Blow through."]
    assert steaming.suppressed() == ["water near the upper mark"]


@pytest.mark.parametrize(
    ("what", "state"), [("valve", "lifting"), ("valve", "shut"), ("regulator", "open")]
)
def test_a_glass_that_fell_with_the_steam_taken_says_nothing_of_the_feed(
    steaming: Story, what: str, state: str
) -> None:
    steaming.state("feed", "on")
    steaming.at += 120
    steaming.water(0.75)
    steaming.at += 60
    steaming.state(what, state)
    steaming.at += 60
    assert steaming.water(0.625) == []
    steaming.at += 200
    assert steaming.water(0.5) == ["Warning. Water falling, feed on. Check the feed."]


def test_a_shut_bypass_is_a_feed(steaming: Story) -> None:
    steaming.at += 60
    steaming.water(0.6)
    steaming.state("bypass", "shut")
    steaming.at += 180
    assert steaming.water(0.5) == ["Warning. Water falling, feed on. Check the feed."]
    for value in (0.5, 0.5, 0.5):
        steaming.at += 30
        steaming.water(value)
    assert steaming.names("cleared") == [], "it does not gain either"
    steaming.state("bypass", "open")
    for value in (0.5, 0.5):
        steaming.at += 30
        steaming.water(value)
    assert steaming.names("cleared") == ["water falling with feed on"]


def test_the_water_is_believed_low_before_anybody_looked(steaming: Story) -> None:
    steaming.at += 200
    assert steaming.believe(water=0.24) == ["Warning. Water perhaps low. Look now."]
    steaming.at += 30
    steaming.believe(water=0.5)
    steaming.water(0.5)
    assert steaming.names("cleared") == ["water perhaps low"]


def test_water_falls_towards_the_lower_mark_in_time_to_feed(steaming: Story) -> None:
    steaming.at += 200
    assert steaming.water(0.5) == []
    steaming.at += 200
    assert steaming.water(0.375) == ["Caution. Water near lower mark. Feed now."]
    only(steaming, "water near the lower mark", Grade.CAUTION)
    steaming.state("feed", "on")
    steaming.at += 60
    assert steaming.water(0.375) == []
    assert steaming.names("cleared") == ["water near the lower mark"]


@pytest.mark.parametrize("values", [(0.375, 0.375), (0.25 + 0.06, 0.375), (0.6, 0.45)])
def test_a_glass_that_stands_low_or_rises_is_left_alone(
    steaming: Story, values: tuple[float, float]
) -> None:
    steaming.inputs = replace(steaming.inputs, water=())
    for value in values:
        steaming.at += 200
        assert steaming.water(value) == []


def test_fed_water_that_falls_is_the_feeds_alarm(steaming: Story) -> None:
    steaming.at += 60
    steaming.water(0.5)
    steaming.state("feed", "on")
    steaming.at += 120
    assert steaming.water(0.375) == ["Warning. Water falling, feed on. Check the feed."]
    assert steaming.names("raised") == ["water falling with feed on"]
