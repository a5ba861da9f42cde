"""Alarms of water that nobody reads: by the state of the engine, one interval and two."""

from __future__ import annotations

from dataclasses import replace

import pytest
from alarm_story import Story  # type: ignore[import-not-found]

from assistant.alarms.unread_rules import WATER_KG_PER_M3
from assistant.boiler.steam import EVAPORATION_J_PER_KG

OVERDUE = "Warning. Water reading overdue. Where is the water?"
NOT_READ = "Danger. Water not read. Look at the glass."
UNKNOWN = "Danger. Level not known. Stop the heat."


def test_in_steam_a_warning_after_five_minutes_and_a_danger_after_ten(steaming: Story) -> None:
    assert steaming.pass_s(300) == []
    assert steaming.pass_s(10) == [OVERDUE]
    assert steaming.pass_s(280) == []
    assert NOT_READ in steaming.pass_s(20)
    steaming.water(0.6)
    assert set(steaming.names("cleared")) == {"water reading overdue", "water not read"}


def test_over_a_fire_in_a_cold_boiler_three_times_as_long(cold: Story) -> None:
    cold.water(0.5)
    cold.at = 600.0
    cold.state("fire", "lit")
    assert cold.pass_s(900) == []
    assert cold.pass_s(10) == [OVERDUE]
    assert cold.pass_s(880) == []
    assert cold.pass_s(20) == [NOT_READ]


def test_steam_that_shows_gives_a_moment_to_call_it(cold: Story) -> None:
    cold.water(0.5)
    cold.state("fire", "lit")
    cold.pass_s(840)
    assert cold.psi(20) == []
    assert cold.pass_s(60) == []
    assert cold.pass_s(10) == [OVERDUE]


def test_steam_that_shows_ends_no_alarm_that_stands(cold: Story) -> None:
    cold.water(0.5)
    cold.state("fire", "lit")
    cold.pass_s(1900)
    assert cold.names("raised") == ["water reading overdue", "water not read"]
    cold.psi(20)
    assert cold.names("cleared") == []


@pytest.mark.parametrize("fire", ["drawn", "dead"])
def test_with_the_fire_out_and_the_gauge_at_rest_nobody_need_look(
    steaming: Story, fire: str
) -> None:
    steaming.state("fire", fire)
    steaming.psi(0)
    steaming.pass_s(3600)
    assert not set(steaming.names("raised")) & {"water reading overdue", "water not read"}


def test_a_fire_with_the_water_never_called(cold: Story) -> None:
    assert cold.state("fire", "lit") == ["Warning. Fire in, water unseen. Where is it?"]
    assert "Danger. Fire in, water unseen. Stop the heat." in cold.pass_s(190)
    cold.water(0.5)
    assert set(cold.names("cleared")) >= {"fire in, water not seen", "fire in, water never seen"}


def test_water_that_fell_towards_the_mark_is_a_danger_after_one_interval(steaming: Story) -> None:
    mark = steaming.inputs.engine.glass.lower_mark
    steaming.water(mark + 0.4)
    steaming.pass_s(240)
    steaming.water(mark + 0.2)
    assert NOT_READ not in steaming.pass_s(300)
    assert NOT_READ in steaming.pass_s(10)


def test_water_that_fell_little_is_none_before_the_second(steaming: Story) -> None:
    mark = steaming.inputs.engine.glass.lower_mark
    steaming.water(mark + 0.4)
    steaming.pass_s(240)
    steaming.water(mark + 0.3)
    assert OVERDUE in steaming.pass_s(310)
    assert NOT_READ not in steaming.pass_s(280)
    assert NOT_READ in steaming.pass_s(140)


def fired(story: Story) -> float:
    """The regulator is open, the rate of the fire told. How long a full one boils away a tenth."""
    engine = replace(story.inputs.engine, fire_rate_w=28e3)
    story.inputs = replace(story.inputs, engine=engine)
    story.state("regulator", "open")
    litres = [litre for _, litre in engine.glass.points]
    kg = 0.1 * (litres[-1] - litres[0]) / 1000.0 * WATER_KG_PER_M3
    return kg * EVAPORATION_J_PER_KG / 28e3


def test_water_that_a_full_fire_may_have_boiled_to_the_mark_is_a_danger_sooner(
    steaming: Story,
) -> None:
    tenth_s = fired(steaming)
    assert 300.0 < 2 * tenth_s < 590.0
    steaming.water(steaming.inputs.engine.glass.lower_mark + 0.2)
    assert NOT_READ not in steaming.pass_s(2 * tenth_s - 10.0)
    assert NOT_READ in steaming.pass_s(20.0)


def test_where_no_steam_leaves_a_full_fire_takes_no_water(steaming: Story) -> None:
    fired(steaming)
    steaming.state("regulator", "shut")
    steaming.water(steaming.inputs.engine.glass.lower_mark + 0.1)
    assert NOT_READ not in steaming.pass_s(590.0)


def test_no_fire_is_so_strong_that_one_interval_and_a_minute_are_not_given(
    steaming: Story,
) -> None:
    fired(steaming)
    steaming.water(steaming.inputs.engine.glass.lower_mark + 0.05)
    assert NOT_READ not in steaming.pass_s(350.0)
    assert NOT_READ in steaming.pass_s(20.0)


def test_a_glass_that_failed_its_test_for_two_intervals_tells_no_level(steaming: Story) -> None:
    steaming.tell("glass", "fills and stays")
    for _ in range(2):
        assert UNKNOWN not in steaming.pass_s(240.0)
        steaming.water(0.9)
    assert UNKNOWN in steaming.pass_s(130.0)
    steaming.tell("glass", "comes back at once")
    steaming.water(0.6)
    assert "level not known" in steaming.names("cleared")
