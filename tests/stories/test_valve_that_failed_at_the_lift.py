"""Over the lift with no valve lifting: she is not steamed again before she was looked at, cold."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

FAILED = "Warning. Valve failed at the lift. Put her away."


def over(valve: str = "") -> Day:
    """A hundred and ten on a valve of a hundred; then the pressure comes under the lift again."""
    day = taken_over("standing by", "copper", pressure="pressure eighty")
    day.tell(f"1:30 pressure ninety six\n2:00 water half\n2:30 {valve}\n3:00 pressure one ten")
    return day


def under(day: Day) -> str:
    return day.tell("4:00 damper shut\n5:00 pressure ninety\n6:10 pressure eighty eight\n6:30")


def test_the_pressure_back_under_the_lift_does_not_end_it() -> None:
    day = over()
    assert "over-pressure" in day.dangers
    said = under(day)
    assert FAILED in said
    assert not day.dangers
    day.tell("7:00 water half")
    assert "Not steamed until looked at, cold." in day.reply("raising steam")
    assert day.phase == "standing by"
    assert "No fire, no steam" in day.reply("coal on the fire")


def test_water_may_be_kept_up() -> None:
    day = over()
    under(day)
    assert "Stop the feed" not in day.reply("feed running")


def test_the_valve_that_lifts_late_ends_the_danger_and_not_the_bar() -> None:
    day = over()
    day.tell("3:20 valve lifting\n3:25 damper shut")
    assert FAILED in day.tell("4:00 pressure ninety four\n5:10 pressure ninety\n6:00")
    assert "not to be steamed" in day.standing


def test_called_stuck_is_the_same() -> None:
    day = taken_over("standing by", "copper", pressure="pressure eighty")
    said = day.tell("1:30 safety valve is stuck\n2:30 danger is over\n3:00")
    assert "Danger. Not to be steamed. Stop the heat." in said
    assert FAILED in day.tell("3:10 fire drawn\n3:30")


def test_cold_and_looked_at_it_is_over() -> None:
    day = over()
    under(day)
    assert "Not under steam." in day.reply("boiler has been looked at")
    day.tell("10:00 fire drawn\n90:00 pressure nothing\n91:00 boiler has been looked at\n91:10 Ann")
    assert "not to be steamed" not in day.standing


@pytest.mark.parametrize("pressure", ["one hundred", "one hundred and one"])
def test_a_valve_that_lifts_at_its_figure_has_not_failed(pressure: str) -> None:
    day = taken_over("standing by", "copper", pressure="pressure ninety four")
    day.tell(f"1:30 water half\n2:00 valve lifting\n2:10 pressure {pressure}\n3:00 valve shut")
    day.tell("3:20 pressure ninety two\n4:30 pressure ninety\n5:00 water half")
    assert "not to be steamed" not in day.standing
    day.tell("5:30 raising steam")
    assert day.phase == "raising steam"


def test_a_reading_called_wrong_is_no_failure() -> None:
    day = over()
    day.tell("3:10 wrong, ninety six")
    assert "not to be steamed" not in day.standing
    assert day.session.state.watch.danger is False or "over-pressure" not in day.dangers
