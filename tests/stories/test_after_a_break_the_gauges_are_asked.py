"""Killed, unplugged or a lid shut: water and pressure are asked, what was answered is not."""

from __future__ import annotations

import pytest
from day_story import Day, taken_over

from assistant.messages import Resumed, StepAsked


def gone_on_with(day: Day, away_s: float) -> str:
    day.at += away_s
    day.event(Resumed(day.at, away_s))
    return day.text()


@pytest.mark.parametrize("away_s", [4.0, 60.0, 600.0])
def test_water_at_once_and_then_the_pressure_however_lately_it_was_called(away_s: float) -> None:
    day = taken_over("raising steam", pressure="pressure sixty", fire="fire is bright")
    day.tell("1:00 pressure sixty, water half")
    assert "Where is the water?" in gone_on_with(day, away_s)
    assert "What is the pressure?" in day.reply("water half")
    day.reply("pressure sixty two")
    assert "What is the pressure?" not in day.silence(1.0)


def test_called_before_it_is_asked_it_is_not_asked() -> None:
    day = taken_over("raising steam", pressure="pressure sixty", fire="fire is bright")
    day.tell("1:00 pressure sixty, water half")
    gone_on_with(day, 4.0)
    day.reply("water half, pressure sixty")
    assert "What is the pressure?" not in day.silence(1.5)


def test_cold_with_no_fire_no_pressure_is_asked() -> None:
    day = Day("practice")
    day.tell("0:10 water half")
    gone_on_with(day, 5.0)
    assert "What is the pressure?" not in day.silence(3.0)


def test_a_step_that_was_answered_is_not_put_again() -> None:
    day = Day("practice")
    day.tell("0:10 water half\n0:20 brake on and chocked\n0:30 gear is out\n0:40 regulator shut")
    answered = day.session.state.progress.answered
    assert answered
    mark = len(day.came)
    gone_on_with(day, 5.0)
    day.silence(4.0)
    asked = {e.step for _, e in day.came[mark:] if isinstance(e, StepAsked)}
    assert asked and not asked & answered
