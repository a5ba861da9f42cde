"""Upsets as a driver would live them: one first cause, at once, the right grade and words."""

from __future__ import annotations

from dataclasses import replace

import pytest
from alarm_story import ENGINE, Story, a_bright_fire  # type: ignore[import-not-found]

from assistant.alarms.inputs import TimedValue
from assistant.alarms.watch import acknowledge
from assistant.messages import Grade


@pytest.fixture
def steaming() -> Story:
    return a_bright_fire()


@pytest.fixture
def cold() -> Story:
    return Story()


def only(story: Story, name: str, grade: Grade) -> None:
    """Exactly this alarm was spoken, once, with its grade."""
    told = [c for _, c in story.changes if c.tone is not None]
    assert [(c.rule.name, c.tone) for c in told] == [(name, grade)]


def test_water_at_the_lower_mark(steaming: Story) -> None:
    steaming.at += 200
    assert steaming.water(0.25) == ["Danger. Water low. Stop the heat."]
    only(steaming, "low water", Grade.DANGER)


def test_water_below_the_mark_before_there_is_a_fire_is_no_alarm(cold: Story) -> None:
    assert cold.water(0.1) == [] and cold.water("out of sight") == []
    cold.at += 60
    assert cold.state("fire", "lit") == ["Danger. No water in sight. Stop the heat."]


def test_no_water_in_sight(steaming: Story) -> None:
    steaming.at += 200
    assert steaming.water("out of sight") == ["Danger. No water in sight. Stop the heat."]
    only(steaming, "water out of sight", Grade.DANGER)


def test_pressure_runs_above_the_lift_and_the_valve_does_nothing(steaming: Story) -> None:
    steaming.state("damper", "shut")
    steaming.state("blower", "shut")
    for psi in (130, 144, 145, 149):
        steaming.at += 60
        assert steaming.psi(psi) == []
    steaming.at += 60
    assert steaming.psi(150) == ["Danger. Pressure above the lift. Stop the heat."]
    only(steaming, "over-pressure", Grade.DANGER)


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
        "Warning. Gauge and valve disagree. Stop and settle."
    ]
    only(steaming, "gauge and valve disagree", Grade.WARNING)


def test_the_gauge_cock_is_shut_and_the_valve_lifts(steaming: Story) -> None:
    for _ in range(4):
        steaming.at += 240
        steaming.water(0.62)
        steaming.psi(60)
    steaming.at += 100
    assert steaming.state("valve", "feathering") == []
    steaming.at += 20
    assert steaming.psi(60) != []
    only(steaming, "gauge and valve disagree", Grade.WARNING)


def test_the_valve_moves_where_it_should(steaming: Story) -> None:
    steaming.state("damper", "half")
    steaming.state("blower", "shut")
    steaming.at += 60
    steaming.psi(131)
    steaming.at += 10
    assert steaming.state("valve", "feathering") == []


def test_without_a_reading_at_that_moment_nothing_is_claimed(steaming: Story) -> None:
    steaming.at += 250
    assert steaming.state("valve", "feathering") == []
    steaming.at += 40
    assert steaming.psi(95) == ["Warning. Gauge and valve disagree. Stop and settle."]


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


def test_lost_prime_with_the_tank_empty_first(steaming: Story) -> None:
    steaming.at += 30
    assert steaming.tank(0.0) == ["Warning. Tank empty. Fill it now."]
    steaming.watch, _ = acknowledge(steaming.watch, steaming.at)
    steaming.water(0.6)
    steaming.state("feed", "on")
    steaming.at += 180
    assert steaming.water(0.5) == [], "suppressed: it follows from the empty tank"
    assert steaming.suppressed() == ["water falling with feed on"]
    steaming.at += 60
    assert steaming.water(0.2) == ["Danger. Water low. Stop the heat."], "danger never waits"


def test_what_was_held_back_is_told_when_its_cause_clears(steaming: Story) -> None:
    steaming.tank(0.0)
    steaming.water(0.6)
    steaming.state("feed", "on")
    steaming.at += 120
    steaming.water(0.5)
    steaming.at += 30
    assert steaming.tank(0.8) == []
    steaming.at += 30
    assert steaming.tank(0.9) == ["Warning. Water falling, feed on. Check the feed."]
    assert steaming.names("cleared") == ["tank empty"]


def test_the_fire_dies_after_coaling(steaming: Story) -> None:
    steaming.state("fire", "coal")
    for seconds, psi in ((120, 59), (120, 57)):
        steaming.at += seconds
        assert steaming.psi(psi) == [], "the coal explains it"
    steaming.water(0.6)
    steaming.at += 300
    assert steaming.psi(52) == ["Caution. Pressure falling. Look at the fire."]
    only(steaming, "pressure falling", Grade.CAUTION)


def test_a_feed_explains_falling_pressure(steaming: Story) -> None:
    steaming.at += 600
    steaming.psi(70)
    steaming.water(0.6)
    steaming.state("feed", "on")
    steaming.at += 60
    assert steaming.psi(64) == []


def test_the_reading_is_forgotten(steaming: Story) -> None:
    assert steaming.pass_s(300) == []
    assert steaming.pass_s(10) == ["Warning. Water reading overdue. Where is the water?"]
    steaming.psi(70)
    steaming.at += 5
    steaming.water(0.6)
    assert steaming.names("cleared") == ["water reading overdue"]
    only(steaming, "water reading overdue", Grade.WARNING)


def test_fifty_forgotten_readings_are_each_told_within_ten_seconds(steaming: Story) -> None:
    for i in range(50):
        steaming.water(0.6)
        steaming.psi(70)
        before = len(steaming.changes)
        steaming.pass_s(310)
        told = [c.rule.name for _, c in steaming.changes[before:] if c.tone is not None]
        assert told == ["water reading overdue"], i


def test_silence_and_the_clock_clear_nothing(steaming: Story) -> None:
    steaming.water(0.2)
    steaming.pass_s(3600)
    alarm = steaming.alarm("low water")
    assert alarm is not None and steaming.names("cleared") == []


def test_the_glass_is_over_full(steaming: Story) -> None:
    steaming.at += 100
    assert steaming.water(1.0) == ["Warning. Glass full. Stop feeding."]
    assert steaming.suppressed() == ["water near the upper mark"]


def test_the_blower_is_left_on(steaming: Story) -> None:
    steaming.state("damper", "shut")
    steaming.at += 140
    assert steaming.psi(105) == [], "now the list asks for it"
    steaming.at += 140
    assert steaming.psi(121) == ["Caution. Blower still on. Shut it."]
    steaming.at += 20
    assert steaming.state("blower", "shut") == []
    assert steaming.names("cleared") == ["blower left on"]


def test_pressure_runs_up_with_everything_open(steaming: Story) -> None:
    steaming.at += 120
    steaming.psi(119)
    steaming.at += 120
    assert steaming.psi(126) == ["Warning. Pressure high and rising. Shut the damper."]
    assert steaming.suppressed() == ["blower left on"]


def test_pressure_comes_too_fast_for_a_cold_boiler(steaming: Story) -> None:
    story = Story(at=0.0)
    story.state("fire", "built")
    story.psi(5)
    story.at += 120
    assert story.psi(35) == ["Caution. Pressure rising fast. Ease the fire."]


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
    assert steaming.psi(128) == ["Warning. Pressure high and rising. Shut the damper."]


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
    assert other.psi(146) == ["Warning. Pressure high and rising. Shut the damper."]


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


def test_steam_is_seen_and_the_gauge_shows_nothing(cold: Story) -> None:
    cold.state("fire", "built")
    cold.psi(0)
    cold.at += 60
    assert cold.state("vent", "steam") == []
    cold.at += 120
    assert cold.psi(0) == [], "it may take a moment"
    cold.at += 120
    assert cold.psi(0) == ["Caution. Gauge not moved yet. Gauge cock open?"]
    only(cold, "gauge not moving", Grade.CAUTION)


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


def test_a_dying_fire_is_told_once_and_not_at_every_reading(steaming: Story) -> None:
    for psi in (60, 60, 60, 55, 55, 50, 50, 45, 45, 40):
        steaming.at += 240
        steaming.water(0.6)
        steaming.psi(psi)
    assert steaming.names("raised") == ["pressure falling"]
    for psi in (42, 45):
        steaming.at += 240
        steaming.water(0.6)
        steaming.psi(psi)
    assert steaming.names("cleared") == ["pressure falling"]


def test_the_valve_lifts_late_and_the_danger_is_the_first_cause(steaming: Story) -> None:
    steaming.state("damper", "shut")
    steaming.state("blower", "shut")
    steaming.at += 100
    steaming.psi(140)
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
    assert steaming.psi(112) == ["Warning. Gauge and valve disagree. Stop and settle."]


def test_the_gauge_does_not_move_long_after_lighting(cold: Story) -> None:
    cold.state("fire", "lit")
    cold.see(first_steam_by=3000.0)
    cold.at = 2900
    assert cold.psi(0) == []
    cold.at = 3100
    assert cold.psi(0) == ["Caution. Gauge not moved yet. Gauge cock open?"]
    cold.at = 3200
    cold.psi(6)
    assert cold.names("cleared") == ["gauge not moving"]


def test_the_water_is_believed_low_before_anybody_looked(steaming: Story) -> None:
    steaming.at += 200
    assert steaming.believe(water=0.24) == ["Warning. Water perhaps low. Look now."]
    steaming.at += 30
    steaming.believe(water=0.5)
    steaming.water(0.5)
    assert steaming.names("cleared") == ["water perhaps low"]


def test_the_microphone_goes_and_comes_back(steaming: Story) -> None:
    lost = steaming.see(
        lost_devices={"microphone": TimedValue("no frames for two seconds", steaming.at)}
    )
    assert lost == ["Warning. I cannot hear you. Check the microphone."]
    steaming.pass_s(310)
    suppressed = steaming.suppressed()
    assert suppressed == ["water reading overdue"], "it follows from the microphone"
    back = steaming.see(lost_devices={})
    assert back == ["Warning. Water reading overdue. Where is the water?"]


def test_calls_for_help_are_told_at_once_and_end_when_called_over(steaming: Story) -> None:
    for name, text in (
        ("steam escaping", "Danger. Steam escaping. Stand clear."),
        ("glass broken", "Danger. Glass broken. Face away."),
        ("someone hurt", "Danger. Someone hurt. Regulator shut, call help."),
        ("fire outside", "Danger. Fire outside. Everybody back."),
    ):
        assert steaming.call(name) == [text]
        steaming.at += 1
        assert steaming.call("over") == []
        steaming.at += 1
    assert steaming.names("cleared") == steaming.names("raised")


def test_the_forecast_runs_away_from_the_plan(steaming: Story) -> None:
    assert steaming.see(plan_at=7200.0, forecast_at=7800.0) == []
    told = steaming.see(forecast_at=8400.0)
    assert told == ["Caution. Forecast far from plan. Ask me why."]
    assert steaming.see(forecast_at=8000.0) == [], "inside, but not by the deadband"
    assert steaming.names("cleared") == []
    steaming.see(forecast_at=7500.0)
    assert steaming.names("cleared") == ["forecast far from plan"]


def test_a_step_left_open_is_a_caution_until_it_is_done(cold: Story) -> None:
    assert cold.see(left_open=("tubes and smokebox",)) == [
        "Caution. A step stays open. I ask again."
    ]
    cold.see(left_open=())
    assert cold.names("cleared") == ["step left open"]


def test_a_wrong_reading_taken_back_takes_its_alarm_with_it(steaming: Story) -> None:
    steaming.at += 60
    steaming.water(0.2)
    corrected = (*steaming.inputs.water[:-1], TimedValue(0.7, steaming.at))
    steaming.inputs = replace(steaming.inputs, water=corrected)
    steaming.look(retracted=("water",))
    assert steaming.names("cleared") == ["low water"]
    assert steaming.changes[-1][1].reason == "the reading was taken back"


def test_reasons_are_made_of_the_numbers(steaming: Story) -> None:
    steaming.state("damper", "shut")
    steaming.state("blower", "shut")
    steaming.psi(150)
    reason = steaming.changes[-1][1].reason
    assert "150 psi" in reason and "145 psi" in reason


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
