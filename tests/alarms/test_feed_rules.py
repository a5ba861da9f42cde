"""Alarms of the feeds: one that gives nothing, one that gives little, none that works."""

from __future__ import annotations

from dataclasses import replace

import pytest
from alarm_story import Story  # type: ignore[import-not-found]

from assistant.boiler.scales import LITRE_M3, PSI_PA
from assistant.procedure.scale import glass_litres

NEAR_MARK = "Warning. Near mark, feed fails. Damper shut, no firing."
FALLING = "Warning. Water falling, feed on. Check the feed."
DEAD = "Warning. Glass has not gained. Not proved: check feed."
NONE = "Caution. No feed works. No higher: damper shut."
URGENT = "Warning. No feed works. Damper shut, no firing."
NOW = "Danger. No feed, water falling. Damper shut now."


def test_water_falls_with_the_bypass_open(steaming: Story) -> None:
    steaming.at += 60
    steaming.water(0.6)
    steaming.state("feed", "on")
    steaming.at += 180
    assert steaming.water(0.55) == [FALLING]


def test_water_fell_before_the_feed_was_put_on(steaming: Story) -> None:
    steaming.at += 240
    steaming.state("feed", "on")
    steaming.at += 30
    assert steaming.water(0.55) == []


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
    assert FALLING in steaming.water(0.5)


def test_a_shut_bypass_is_a_feed_and_no_gain_follows_the_fall(steaming: Story) -> None:
    steaming.at += 60
    steaming.water(0.6)
    steaming.state("bypass", "shut")
    steaming.at += 180
    assert steaming.water(0.5) == [FALLING]
    steaming.at += 70
    assert steaming.water(0.5) == [NONE], "the fall is the cause of the rest"
    assert steaming.suppressed() == ["feed dead"]
    steaming.at += 70
    assert DEAD in steaming.water(0.5), "it falls no more, and does not gain either"
    assert steaming.names("cleared") == ["water falling with feed on"]
    steaming.state("bypass", "open")
    assert "feed dead" in steaming.names("cleared")


def test_a_feed_of_unknown_delivery_is_dead_after_four_minutes_without_gain(
    steaming: Story,
) -> None:
    steaming.state("feed", "on")
    steaming.at += 230
    assert steaming.water(0.6) == []
    steaming.at += 20
    assert steaming.water(0.6) == [DEAD, NONE]
    steaming.at += 250
    steaming.water(0.9)
    assert {"feed dead", "no feed works"} <= set(steaming.names("cleared")), "two readings prove it"


def test_a_feed_that_gives_little_is_weak(steaming: Story) -> None:
    engine = steaming.inputs.engine
    per_s = 0.001 * glass_litres(engine) * LITRE_M3
    steaming.see(engine=replace(engine, pump_m3_per_s=per_s))
    steaming.water(0.6)
    steaming.state("bypass", "shut")
    steaming.at += 250
    told = steaming.water(0.7)
    assert "Caution. Feed gives little. Bypass, tank, then the glass." in told


def test_a_feed_that_fails_near_the_mark_wants_the_damper_shut(steaming: Story) -> None:
    steaming.tell("injector", "works")  # so one feed is left
    steaming.state("feed", "on")
    steaming.at += 120
    steaming.water(0.5)
    assert NEAR_MARK not in steaming.water(0.4375)
    steaming.at += 120
    assert NEAR_MARK in steaming.water(0.375)
    steaming.at += 60
    steaming.water(0.34)
    assert "feed fails near the mark" not in steaming.names("cleared")
    steaming.at += 60
    steaming.water(0.375)
    steaming.at += 60
    steaming.water(0.4375)
    assert "feed fails near the mark" in steaming.names("cleared")


def test_no_feed_works_with_pressure_rising_is_a_warning(steaming: Story) -> None:
    assert steaming.tell("hand pump", "fails") == [NONE]
    steaming.at += 60
    assert steaming.psi(61) == [], "less than two per cent is hunting"
    steaming.at += 60
    assert steaming.psi(70) == [URGENT]
    steaming.at += 60
    steaming.psi(70)
    assert "no feed, urgent" not in steaming.names("cleared"), "it has not come down"
    steaming.at += 60
    steaming.psi(60)
    steaming.water(0.7)
    assert "no feed, urgent" in steaming.names("cleared")


def test_no_feed_works_with_the_water_near_the_mark(steaming: Story) -> None:
    steaming.tell("hand pump", "fails")
    steaming.at += 100
    assert steaming.water(0.5) == []
    steaming.at += 100
    assert steaming.water(0.375) == [NOW]
    assert steaming.suppressed() == ["no feed, urgent"]
    alarm = steaming.alarm("no feed, water falling")
    assert alarm is not None and alarm.rule.more == "Blower shut, no firing."
    steaming.at += 100
    assert "Danger. Water low. Stop the heat." in steaming.water(0.25)
    assert "no feed, water falling" in steaming.names("cleared"), "low water speaks now"


def test_a_feed_that_works_again_ends_all_of_it(steaming: Story) -> None:
    steaming.tell("hand pump", "fails")
    steaming.at += 60
    steaming.psi(80)
    steaming.at += 60
    steaming.tell("hand pump", "works")
    assert {"no feed works", "no feed, urgent"} <= set(steaming.names("cleared"))


def test_an_injector_tried_below_its_own_pressure_has_not_failed(steaming: Story) -> None:
    engine = replace(steaming.inputs.engine, injector_from_gauge_pa=80 * PSI_PA)
    steaming.see(engine=engine)
    steaming.at += 30
    assert steaming.tell("injector", "fails") == []
    steaming.at += 30
    steaming.psi(90)
    assert steaming.tell("injector", "fails") != []


def test_of_two_feeds_one_that_works_is_enough(steaming: Story) -> None:
    steaming.tell("injector", "works")
    steaming.at += 30
    assert steaming.tell("hand pump", "fails") == []
