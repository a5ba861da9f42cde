"""The gauge that stands still over a fire that should move it."""

from __future__ import annotations

import pytest
from picture_story import picture, psi  # type: ignore[import-not-found]

from assistant.messages import Report

FIRE = (0.0, Report("fire", "bright"))
AIR = ((0.1, Report("damper", "open")), (0.2, Report("blower", "open")))
CALLED = ((1.0, psi(60)), (2.5, psi(60)), (4.0, psi(60)))
STEP_PA = 5.0 * 6894.757


def still(*told: tuple[float, Report], rise_pa: float | None = 100e3) -> float | None:
    seen = picture(*sorted(told, key=lambda each: each[0]), rise=lambda t0, t1: rise_pa)
    return seen.gauge.still_since


def test_three_calls_of_one_figure_where_a_rise_was_due() -> None:
    assert still(FIRE, *AIR, *CALLED) == 60.0
    assert still(FIRE, *AIR, *CALLED[:2]) is None, "two tell nothing yet"


def test_two_calls_ten_minutes_apart_are_enough() -> None:
    assert still(FIRE, *AIR, (1.0, psi(60)), (11.0, psi(60))) == 60.0


@pytest.mark.parametrize("rise_pa", [None, 0.0, 1.9 * STEP_PA])
def test_no_rise_that_was_due_is_no_gauge_that_stands(rise_pa: float | None) -> None:
    assert still(FIRE, *AIR, *CALLED, rise_pa=rise_pa) is None


@pytest.mark.parametrize(
    "held",
    [
        Report("damper", "shut"),
        Report("blower", "crack"),
        Report("regulator", "open"),
        Report("feed", "on"),
        Report("bypass", "shut"),
        Report("valve", "feathering"),
        Report("fire", "banked"),
        Report("fire", "coal"),
    ],
)
def test_what_holds_the_pressure_explains_it(held: Report) -> None:
    assert still(FIRE, *AIR, *CALLED, (0.5, held)) is None


def test_coal_that_has_caught_explains_nothing_more() -> None:
    coal, rose = (0.3, Report("fire", "coal")), (0.4, psi(40))
    assert still(FIRE, *AIR, coal, rose, *CALLED) == 60.0


def test_near_the_valve_it_may_be_held_untold() -> None:
    assert still(FIRE, *AIR, *((at, psi(125)) for at in (1.0, 2.5, 4.0))) is None


def test_it_ends_two_steps_away_and_not_before() -> None:
    day = (FIRE, *AIR, *CALLED)
    assert still(*day, (5.0, psi(65))) == 60.0
    assert still(*day, (5.0, psi(70))) is None
    assert still(*day, (5.0, Report("damper", "shut"))) is None
    assert still(*day, (5.0, Report("gauge trouble", "cured"))) is None
