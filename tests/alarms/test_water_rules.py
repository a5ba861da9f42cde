"""Alarms of the water in its glass and of the tank, as a driver would meet them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from alarm_story import Story, only  # type: ignore[import-not-found]

from assistant.messages import Grade

LOW = "Danger. Water low. Stop the heat."
NEAR = "Caution. Water near lower mark. Feed now."


def test_water_at_the_lower_mark(steaming: Story) -> None:
    steaming.at += 200
    assert steaming.water(0.25) == [LOW]
    only(steaming, "low water", Grade.DANGER)


def test_one_reading_above_the_mark_is_not_enough_and_two_are(steaming: Story) -> None:
    steaming.water(0.2)
    steaming.at += 60
    assert steaming.water(0.28) == [] and steaming.names("cleared") == []
    steaming.at += 60
    steaming.water(0.3)
    alarm = steaming.alarm("low water")
    assert alarm is not None and alarm.normal_readings == 1
    assert alarm.rule.once_more_text == (
        "Danger still. Call it once more in a minute. Until then no heat."
    )
    steaming.at += 60
    steaming.water(0.3)
    assert steaming.names("cleared") == ["low water"]


def test_low_water_that_goes_out_of_sight_is_the_other_danger(steaming: Story) -> None:
    steaming.water(0.2)
    steaming.at += 60
    assert steaming.water("out of sight") == ["Danger. Stop the heat. No water in sight."]
    assert steaming.names("cleared") == ["low water"]
    quiet = [c.quiet for _, c in steaming.changes if c.state == "cleared"]
    assert quiet == [True], "nobody says that it is above the mark"


def test_feed_put_on_below_the_mark_with_the_water_in_sight_is_not_scolded(steaming: Story) -> None:
    steaming.water(0.2)
    steaming.at += 30
    assert steaming.state("feed", "on") == []


def test_a_level_called_of_a_glass_not_proved_counts_where_it_is_low(steaming: Story) -> None:
    steaming.tell("glass", "comes back slowly")
    assert LOW in steaming.water(0.2)


def test_water_below_the_mark_before_there_is_a_fire_is_no_alarm(cold: Story) -> None:
    assert cold.water(0.1) == [] and cold.water("out of sight") == []
    cold.at += 60
    assert cold.state("fire", "lit") == ["Danger. Stop the heat. No water in sight."]


def test_a_glass_that_stands_still_while_heat_should_move_it(steaming: Story) -> None:
    steaming.expansion = lambda t0, t1: 0.0005 * (t1 - t0)
    for _ in range(2):
        steaming.at += 120
        assert steaming.water(0.6) == []
    steaming.at += 120
    assert steaming.water(0.6) == ["Warning. Glass not moving. Blow it through."]
    only(steaming, "glass motionless", Grade.WARNING)
    steaming.at += 60
    steaming.tell("glass", "comes back at once")
    assert steaming.names("cleared") == ["glass motionless"]


def test_a_glass_that_need_not_move_may_stand_still(steaming: Story) -> None:
    for _ in range(6):
        steaming.at += 200
        steaming.water(0.6)
    assert "glass motionless" not in steaming.names("raised")


def test_a_glass_that_stood_still_moves_again(steaming: Story) -> None:
    steaming.expansion = lambda t0, t1: 0.0005 * (t1 - t0)
    for _ in range(4):
        steaming.at += 120
        steaming.water(0.6)
    steaming.at += 60
    steaming.water(0.75)
    assert steaming.names("cleared") == ["glass motionless"]


def test_the_glass_is_over_full(steaming: Story) -> None:
    steaming.at += 100
    assert steaming.water(1.0) == ["Warning. Glass full, or empty? Blow through."]
    assert steaming.suppressed() == ["water near the upper mark"]


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
    assert steaming.water(0.375) == [NEAR]
    only(steaming, "water near the lower mark", Grade.CAUTION)
    steaming.state("feed", "on")
    steaming.at += 60
    assert steaming.water(0.375) == []
    assert steaming.names("cleared") == ["water near the lower mark"]


def test_a_feed_that_does_not_gain_does_not_silence_it(steaming: Story) -> None:
    steaming.water(0.5)
    steaming.state("feed", "on")
    steaming.tell("delivery", "gives no gain")
    steaming.at += 1
    steaming.tell("injector", "works")
    steaming.at += 50
    fails = "Warning. Near mark, feed fails. Damper shut, no firing."
    assert steaming.water(0.375) == [fails, NEAR]


@pytest.mark.parametrize("values", [(0.375, 0.375), (0.25 + 0.06, 0.375), (0.6, 0.45)])
def test_a_glass_that_stands_low_or_rises_is_left_alone(
    steaming: Story, values: tuple[float, float]
) -> None:
    steaming.inputs = replace(steaming.inputs, water=())
    for value in values:
        steaming.at += 200
        assert steaming.water(value) == []


def test_water_that_falls_faster_than_use_is_believed_at_the_second_fall(steaming: Story) -> None:
    steaming.see(water_cause="loss")
    steaming.at += 120
    assert steaming.water(0.55) == []
    steaming.at += 120
    assert steaming.water(0.5) == ["Warning. Water falls faster than use. Find the leak."]
    steaming.see(water_cause="use")
    assert steaming.names("cleared") == ["water falling faster than use"]


def test_a_quarter_of_the_glass_between_two_calls_is_enough(steaming: Story) -> None:
    steaming.see(water_cause="loss")
    steaming.water(0.8)
    steaming.at += 240
    assert steaming.water(0.55) == ["Warning. Water falls faster than use. Find the leak."]


def test_water_that_shrinks_over_a_dead_fire_with_the_gauge_at_rest_is_no_leak(
    steaming: Story,
) -> None:
    steaming.see(water_cause="loss")
    steaming.state("fire", "drawn")
    steaming.water(0.8)
    steaming.at += 600
    steaming.psi(0)
    steaming.at += 240
    assert steaming.water(0.55) == []


def test_a_pump_that_fails_is_not_called_a_leak(steaming: Story) -> None:
    steaming.see(water_cause="loss")
    steaming.tell("delivery", "gives no gain")
    for level in (0.57, 0.54, 0.5):
        steaming.at += 60
        assert "Warning. Water falls faster than use. Find the leak." not in steaming.water(level)


def test_water_risen_as_at_boiling_over_a_gauge_at_rest_says_steam(cold: Story) -> None:
    cold.water(0.5)
    cold.state("fire", "lit")
    cold.at = 1200.0
    cold.psi(0)
    cold.water(0.75)
    cold.at += 60
    assert cold.psi(0) == [], "at boiling the gauge still rests"
    cold.at += 180
    assert cold.psi(0) == ["Warning. Water says steam, gauge none. Gauge cock open?"]
    cold.at += 60
    cold.psi(20)
    assert cold.names("cleared")[-1] == "water says steam, gauge none"


def test_a_glass_that_was_fed_says_nothing_of_steam(cold: Story) -> None:
    cold.water(0.5)
    cold.state("fire", "lit")
    cold.state("feed", "on")
    cold.at = 1200.0
    cold.water(0.75)
    cold.at = 1500.0
    assert cold.psi(0) == []


def test_the_tank_is_empty_and_filled_again(steaming: Story) -> None:
    assert steaming.tank(0.04) == ["Warning. Tank empty. Fill it now."]
    steaming.at += 30
    steaming.tank(0.07)
    steaming.at += 30
    steaming.tank(0.09)
    assert steaming.names("cleared") == [], "inside the deadband"
    for _ in range(2):
        steaming.at += 30
        steaming.tank(0.5)
    assert steaming.names("cleared") == ["tank empty"]


LEAK = "Warning. Water falls faster than use. Find the leak."


def with_rate(story: Story) -> Story:
    """The file tells the rate of the fire; the gauge stays where it is."""
    engine = replace(story.inputs.engine, fire_rate_w=28e3)
    story.inputs = replace(story.inputs, engine=engine)
    return story


def test_two_looks_that_steam_cannot_explain_are_a_loss_whatever_is_believed(
    steaming: Story,
) -> None:
    with_rate(steaming)
    for wait, level, said in ((0, 0.75, False), (240, 0.55, False), (120, 0.5, True)):
        steaming.at += wait
        assert (LEAK in steaming.water(level)) == said, level


def test_after_the_glass_was_left_alone_two_falls_are_counted_anew(steaming: Story) -> None:
    steaming.see(water_cause="loss")
    for wait, level, said in (
        (0, 0.75, False),
        (900, 0.6, False),
        (60, 0.5, False),
        (60, 0.4, True),
    ):
        steaming.at += wait
        steaming.psi(60)
        assert (LEAK in steaming.water(level)) == said, level
