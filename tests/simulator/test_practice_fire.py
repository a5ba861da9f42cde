"""The practice fire behaves as firemen see it (common practice, no source)."""

from __future__ import annotations

from collections.abc import Callable

from assistant.simulator.practice_fire import Fire

FULL_W, HEAT_J = 28e3, 28e3 * 1500.0


def fire() -> Fire:
    return Fire(FULL_W, HEAT_J, seed=1, spread=0.0)


def burnt(made: Fire, seconds: float, blower: float = 0.0, damper: float = 1.0) -> float:
    """The heat to the water after so long [W]."""
    heat = 0.0
    for _ in range(int(seconds / 2.0)):
        heat = made.step(2.0, blower, damper, 373.0)
    return heat


def glowing(change: Callable[[Fire], None] = lambda made: None) -> Fire:
    made = fire()
    made.glowing()
    burnt(made, 300.0)
    change(made)
    return made


def test_an_unlit_fire_gives_no_heat_whatever_is_on_the_bars() -> None:
    made = fire()
    made.add_coal(2.0)
    assert burnt(made, 600.0) < 0.01 * FULL_W


def test_it_catches_slowly_and_goes_out_without_fuel() -> None:
    made = fire()
    made.light()
    early, later = burnt(made, 60.0), burnt(made, 600.0)
    assert 0.0 < early < later
    assert burnt(made, 2 * 3600.0) < 0.2 * later


def test_coal_keeps_it_up_and_the_blower_brightens_it_within_half_a_minute() -> None:
    assert burnt(glowing(lambda made: made.add_coal(1.0)), 900.0) > burnt(glowing(), 900.0)
    assert burnt(glowing(), 30.0, blower=1.0) > 1.1 * burnt(glowing(), 30.0)


def test_damper_and_banking_hold_it_down_and_dropping_ends_it() -> None:
    plain = burnt(glowing(), 300.0)
    assert burnt(glowing(), 300.0, damper=0.0) < 0.6 * plain
    assert burnt(glowing(lambda made: made.bank()), 300.0) < 0.6 * plain
    assert burnt(glowing(lambda made: made.drop()), 900.0) < 0.01 * FULL_W
