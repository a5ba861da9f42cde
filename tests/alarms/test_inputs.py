"""The inputs of the watch: the last numbers, whether she is hot, whether she is fed."""

from __future__ import annotations

import pytest
from alarm_story import ENGINE

from assistant.alarms.inputs import AlarmInputs, TimedValue
from assistant.boiler.scales import PSI_PA


def test_numbers_are_counted_from_the_newest_and_a_word_is_none() -> None:
    water = (TimedValue(0.6, 0.0), TimedValue("out of sight", 60.0), TimedValue(0.4, 90.0))
    inputs = AlarmInputs(ENGINE, water=water)
    assert [inputs.number("water", back) for back in (1, 2, 3, 4)] == [0.4, None, 0.6, None]
    assert inputs.last("water") == TimedValue(0.4, 90.0)
    assert inputs.last("pressure") is None


def test_only_a_gauge_has_readings() -> None:
    inputs = AlarmInputs(ENGINE, states={"fire": TimedValue("lit", 0.0)})
    assert inputs.readings("fire") == inputs.readings("phase") == inputs.readings("") == ()
    assert inputs.state("fire") == "lit"
    assert inputs.state("blower") == ""


@pytest.mark.parametrize(
    ("fire", "pressure_psi", "hot"),
    [("lit", 0.0, True), ("drawn", 0.0, False), ("drawn", 20.0, True), ("drawn", 2.0, False)],
)
def test_a_fire_or_steam_makes_her_hot(fire: str, pressure_psi: float, hot: bool) -> None:
    inputs = AlarmInputs(
        ENGINE,
        states={"fire": TimedValue(fire, 0.0)},
        pressure=(TimedValue(pressure_psi * PSI_PA, 0.0),),
    )
    assert inputs.hot is hot


@pytest.mark.parametrize(
    ("feed", "bypass", "fed"),
    [
        (("on", 10.0), None, True),
        (None, ("shut", 10.0), True),
        (("on", 10.0), ("open", 20.0), False),
        (("off", 30.0), ("shut", 20.0), False),
        (None, None, False),
    ],
)
def test_the_later_of_feed_and_bypass_says_whether_water_goes_in(
    feed: tuple[str, float] | None, bypass: tuple[str, float] | None, fed: bool
) -> None:
    said = {"feed": feed, "bypass": bypass}
    states = {name: TimedValue(*report) for name, report in said.items() if report is not None}
    assert (AlarmInputs(ENGINE, states=states).feeding is not None) is fed
