"""Each practice fault changes the boiler or what it shows as the trade knows it."""

from __future__ import annotations

import pytest

from assistant.config.engine_file import find_engine
from assistant.simulator.practice_boiler import PracticeBoiler
from assistant.simulator.practice_faults import LATER_FAULTS

ENGINE = find_engine("practice").engine
PART = 0.8 * ENGINE.working_pressure_gauge_pa


def after(*faults: str, seconds: float = 1200.0, feeding: bool = False) -> PracticeBoiler:
    """A boiler in steam with its faults, so much later."""
    boiler = PracticeBoiler(ENGINE, 3, faults=faults, spread=0.0, start_gauge_pa=PART)
    boiler.feed(feeding)
    boiler.step(seconds)
    return boiler


@pytest.mark.parametrize("fault", ["tube weeping", "blow-down open", "clack leaking"])
def test_water_is_lost(fault: str) -> None:
    assert after(fault).lost_kg > 0.0
    assert after().lost_kg == 0.0


def test_a_leaking_clack_loses_nothing_while_the_pump_works() -> None:
    fed = after("clack leaking", feeding=True)
    assert fed.fed_kg > 0.0
    assert fed.lost_kg == 0.0


@pytest.mark.parametrize("fault", ["feed weak", "lost prime", "no water in tank"])
def test_less_water_arrives(fault: str) -> None:
    assert after(fault, feeding=True).fed_kg < after(feeding=True).fed_kg


def test_a_primed_pump_delivers_again() -> None:
    boiler = after("lost prime", feeding=True)
    before = boiler.fed_kg
    boiler.step(60.0)
    assert boiler.fed_kg == before
    assert not boiler.delivers
    boiler.prime()
    assert boiler.delivers
    boiler.step(60.0)
    assert boiler.fed_kg > before


def test_a_glass_choked_at_the_top_climbs_faster_than_one_choked_at_the_bottom() -> None:
    top, bottom, sound = (
        after(*faults).glass_fraction
        for faults in (("glass choked top",), ("glass choked bottom",), ())
    )
    assert top is not None and bottom is not None and sound is not None
    assert top > bottom > sound


def test_a_slow_gauge_lags_a_falling_pressure() -> None:
    boiler = after("gauge slow")
    boiler.draw_fire()
    boiler.regulator("open")
    boiler.step(300.0)
    assert boiler.gauge_pressure_gauge_pa > boiler.true_gauge_pa + 5000.0


def above_setting(part: float, *faults: str) -> PracticeBoiler:
    """Twelve minutes from so much of the pressure at which a sound valve lifts."""
    start = part * (ENGINE.valve_lifts_gauge_pa or 0.0)
    boiler = PracticeBoiler(ENGINE, 3, faults=faults, spread=0.0, start_gauge_pa=start)
    boiler.step(720.0)
    return boiler


def test_a_stuck_valve_lets_no_steam_out() -> None:
    stuck = above_setting(0.97, "valve stuck")
    assert stuck.valve_state == "shut"
    assert stuck.true_gauge_pa > above_setting(0.97).true_gauge_pa


def test_a_light_valve_lets_steam_out_below_its_setting() -> None:
    assert above_setting(0.88, "valve light").steam_used_kg > above_setting(0.88).steam_used_kg


def test_too_strong_a_fire_makes_more_steam() -> None:
    strong, usual = (
        above_setting(0.7, *faults).steam_used_kg for faults in (("fire too strong",), ())
    )
    assert strong > usual


def test_a_stuck_damper_stays_where_it_stood() -> None:
    boiler = after("damper stuck")
    boiler.damper("shut")
    assert boiler.state("damper") == "open"


def test_all_later_faults_can_be_given_at_once() -> None:
    assert after(*LATER_FAULTS).at_s == pytest.approx(1200.0)


@pytest.mark.parametrize(
    ("fault", "returns"),
    [
        ("glass stuck", "stays empty"),
        ("glass choked bottom", "stays empty"),
        ("glass choked top", "fills and stays"),
        ("feed weak", "comes back at once"),
    ],
)
def test_a_glass_that_is_blown_through_returns_by_its_passages(fault: str, returns: str) -> None:
    assert after(fault).glass_returns == returns


def test_a_weeping_tube_is_seen_in_the_firebox_and_a_tank_can_be_filled() -> None:
    assert after("tube weeping").firebox_is_wet
    dry = after("no water in tank")
    assert not (dry.firebox_is_wet or dry.delivers)
    dry.fill_tank()
    assert dry.delivers
