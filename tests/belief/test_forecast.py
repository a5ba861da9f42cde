"""Forecasts against computed steam-ups, and what the trade knows (common practice, no source)."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from boiler_engines import PSI, RAISING, STEEL, belief_after
from timing import quickest_s

from assistant.belief import estimate, forecast
from assistant.boiler.figures import Engine, Glass
from assistant.lab.benches.forecast_errors import straight_lines
from assistant.messages import Report

# Reference miniature "R1": 14 L, 10 kg water, 12 kg copper; 5 kW net from 10 C reaches these
# gauge readings after these minutes (computed from published properties by separate code).
R1 = Engine(
    name="reference miniature",
    working_pressure_gauge_pa=100 * PSI,
    valve_lifts_gauge_pa=160 * PSI,
    valve_feathers_gauge_pa=150 * PSI,
    volume_m3=14e-3,
    metal_kg={"copper": 12.0},
    barrel_diameter_m=0.16,
    barrel_length_m=0.5,
    glass=Glass(0.06, 0.25, 0.85, 0.5, ((0.0, 9.0), (1.0, 11.0))),
    wood_until_gauge_pa=25 * PSI,
    fire_rate_w=None,
)
R1_MINUTES = {5: 15.281, 10: 16.349, 20: 18.046, 25: 18.751, 30: 19.387, 40: 20.508, 50: 21.478,
              60: 22.337, 80: 23.816, 100: 25.070, 120: 26.167, 150: 27.601}  # fmt: skip


def r1_rows(*pounds: int) -> tuple[tuple[float, Report], ...]:
    called = [(60.0 * R1_MINUTES[p], Report("pressure", p, "psi")) for p in pounds]
    return ((0.0, Report("fire", "lit")), *called)


def test_rulers_on_the_reference_miniature() -> None:
    # from 20 and 30 psig the true way to 100 is 5.683 min; line in T_sat 5.62, line in psi 9.39
    in_psi, in_kelvin, _ = straight_lines(r1_rows(20, 30), R1)
    assert in_kelvin == pytest.approx(5.683, rel=0.02)
    assert in_psi == pytest.approx(9.39, rel=0.01)


@pytest.mark.parametrize("upto", [30, 50, 80])
def test_a_constant_fire_on_the_reference_miniature(upto: int) -> None:
    pounds = [p for p in R1_MINUTES if p <= upto]
    minutes = forecast.minutes_to(belief_after(r1_rows(*pounds), R1), 100 * PSI).band
    left = R1_MINUTES[100] - R1_MINUTES[upto]
    assert minutes.mid == pytest.approx(left, rel=0.2)
    assert minutes.low < left < minutes.high


# --- whether it will come at all -----------------------------------------------------------------


def test_a_pressure_that_is_there_takes_no_time() -> None:
    assert forecast.minutes_to(belief_after(RAISING), 30 * PSI).band == forecast.NOW


def damped(rows: tuple[tuple[float, Report], ...]) -> tuple[tuple[float, Report], ...]:
    at_s = rows[-1][0]
    more = ((at_s + 60.0, Report("blower", "shut")), (at_s + 60.0, Report("damper", "shut")))
    return (*rows, *more)


AT_WORK = (
    *RAISING,
    (3700.0, Report("pressure", 75, "psi")),
    (4000.0, Report("pressure", 105, "psi")),
    (4200.0, Report("pressure", 120, "psi")),
)


def test_damped_at_working_pressure_the_valve_will_not_lift() -> None:
    lift = forecast.minutes_to_lift(belief_after(damped(AT_WORK)))
    assert lift.band is None
    assert "damper" in lift.why
    assert forecast.minutes_to_lift(belief_after(AT_WORK)).band is not None


def test_a_damper_shut_before_the_match_is_not_a_damped_fire() -> None:
    rows = ((0.0, Report("damper", "shut")), *RAISING)
    assert forecast.minutes_to(belief_after(rows), 120 * PSI).band is not None


def test_a_damped_fire_that_still_rises_is_believed() -> None:
    rows = (
        *damped(AT_WORK),
        (4500.0, Report("pressure", 125, "psi")),
        (4800.0, Report("pressure", 135, "psi")),
    )
    assert forecast.minutes_to_lift(belief_after(rows)).band is not None


@pytest.mark.parametrize(
    ("last", "word"),
    [
        (Report("fire", "drawn"), "drawn"),
        (Report("fire", "banked"), "banked"),
    ],
)
def test_no_fire_no_pressure(last: Report, word: str) -> None:
    minutes = forecast.minutes_to(belief_after((*RAISING, (3480.0, last))), 120 * PSI)
    assert minutes.band is None
    assert word in minutes.why


def test_before_the_match_nothing_comes() -> None:
    minutes = forecast.minutes_to(belief_after(RAISING[:1]), 120 * PSI)
    assert (minutes.band, minutes.why) == (None, "no fire is lit")


def test_beyond_the_valve_nothing_comes() -> None:
    minutes = forecast.minutes_to(belief_after(RAISING), 200 * PSI)
    assert minutes.band is None
    assert "145" in minutes.why


def test_a_pressure_that_falls_will_not_reach_it() -> None:
    rows = (
        *RAISING,
        (3720.0, Report("pressure", 40, "psi")),
        (4020.0, Report("pressure", 35, "psi")),
        (4320.0, Report("pressure", 30, "psi")),
    )
    minutes = forecast.minutes_to(belief_after(rows), 120 * PSI)
    assert minutes.band is None
    assert "fell" in minutes.why


def test_a_fall_by_feed_that_is_over_does_not_count() -> None:
    rows = (
        *AT_WORK[:-1],
        (4020.0, Report("feed", "on")),
        (4140.0, Report("pressure", 95, "psi")),
        (4260.0, Report("pressure", 85, "psi")),
        (4270.0, Report("feed", "off")),
    )
    assert forecast.minutes_to(belief_after(rows), 120 * PSI).band is not None


def test_a_lifting_valve_has_lifted() -> None:
    rows = (*AT_WORK, (4500.0, Report("valve", "lifting")))
    assert forecast.minutes_to_lift(belief_after(rows)).band == forecast.NOW


# --- feed, use, tank ------------------------------------------------------------------------------


def test_what_a_feed_costs() -> None:
    # R1 at 100 psig, half a kilogram at 15 C: 16.7 psi; a kilogram: 30.3 psi
    rows = (*r1_rows(40, 60, 80), (60.0 * R1_MINUTES[100], Report("pressure", 100, "psi")))
    belief = belief_after(rows, R1)
    hot = forecast.pressure(belief).mid
    for litres, pounds in ((0.5, 16.7), (1.0, 30.3)):
        cost = forecast.feed_cost(belief, litres)
        assert cost.drop_pa.mid == pytest.approx(pounds * PSI, rel=0.12), hot
        # 5 kW warms half a litre from 15 to 170 C in about a minute
        assert cost.minutes.mid == pytest.approx(litres * 4.3 * 155 / 5.0 / 60.0, rel=0.35)


@pytest.mark.parametrize("litres", [-1.0, math.nan, math.inf, 1e6])
def test_no_such_feed(litres: float) -> None:
    with pytest.raises(ValueError, match="boiler"):
        forecast.feed_cost(belief_after(RAISING), litres)


def test_a_feed_that_is_on_takes_time() -> None:
    plain = forecast.minutes_to(belief_after(RAISING), 120 * PSI).band.mid
    feeding = (*RAISING, (3420.0, Report("feed", "on")))
    minutes = forecast.minutes_to(belief_after(feeding), 120 * PSI)
    assert minutes.band.mid > plain + 0.5
    assert "feed" in minutes.why


def test_the_regulator_takes_what_the_fire_gives() -> None:
    rows = (*RAISING, (3480.0, Report("regulator", "open")))
    running = forecast.minutes_to(belief_after(rows), 120 * PSI)
    still = forecast.minutes_to(belief_after(RAISING), 120 * PSI).band
    assert running.band is None or running.band.mid > still.mid


def test_a_high_place_boils_sooner() -> None:
    # at 2000 m the air is 79.5 kPa; the same gauge means cooler water, so less heat to go
    high = replace(STEEL, atmosphere_pa=79_500.0)
    sea, hill = (forecast.minutes_to(belief_after(RAISING[:2], e), 120 * PSI).band.mid
                 for e in (STEEL, high))  # fmt: skip
    assert hill < sea


@pytest.mark.real  # measures processor time
def test_an_update_is_quick() -> None:
    def ten_readings() -> None:
        belief = belief_after(RAISING)
        for minute in range(10):
            report = Report("pressure", 50 + 5 * minute, "psi")
            belief = estimate.update(belief, report, 3600.0 + 150.0 * minute)
            forecast.minutes_to(belief, 140 * PSI)

    assert quickest_s(ten_readings, 3) / 10 < 0.040  # 20 ms wanted; the double for a busy machine
