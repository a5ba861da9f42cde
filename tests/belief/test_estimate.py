"""The belief: what readings do to it, and what must never do anything to it."""

from __future__ import annotations

import math

import pytest
from boiler_engines import COPPER, PSI, RAISING, belief_after

from assistant.belief import estimate, forecast, water_forecast
from assistant.belief.bands import Band
from assistant.belief.summary import forecast_summary
from assistant.messages import Report


def psi(band: Band) -> tuple[float, float, float]:
    return band.low / PSI, band.mid / PSI, band.high / PSI


def test_only_lit_gives_a_wide_interval_at_once() -> None:
    belief = belief_after(RAISING[:2])
    minutes = forecast.minutes_to(belief, 120 * PSI).band
    # common practice, no source: a large miniature takes about an hour or more
    assert 40 < minutes.mid < 150
    assert minutes.high / minutes.low > 1.8


def test_readings_narrow_it() -> None:
    widths = []
    for upto in (2, 3, 5, 7):
        band = forecast.minutes_to(belief_after(RAISING[:upto]), 120 * PSI).band
        widths.append(band.high - band.low)
    assert widths == sorted(widths, reverse=True)


def test_the_needle_is_where_it_was_called() -> None:
    low, mid, high = psi(forecast.pressure(belief_after(RAISING)))
    assert 42.0 < low < mid < high < 48.5


def test_a_reading_in_fives_is_an_interval() -> None:
    # called in fives, anything from 42.5 to 47.5 is meant; called in ones it is sharper
    fives = belief_after(RAISING)
    ones = belief_after(
        [(t, Report(r.what, r.value + 1, r.unit) if r.what == "pressure" else r)
         for t, r in RAISING]
    )  # fmt: skip
    wide, sharp = forecast.pressure(fives), forecast.pressure(ones)
    assert wide.high - wide.low > 1.5 * (sharp.high - sharp.low)


def test_time_moves_the_needle_on() -> None:
    belief = belief_after(RAISING)
    later = estimate.predict(belief, belief.at_s + 240.0)
    assert forecast.pressure(later).mid > forecast.pressure(belief).mid + 8 * PSI
    before, after = (forecast.minutes_to(b, 120 * PSI).band.mid for b in (belief, later))
    assert after == pytest.approx(before - 4.0, abs=1.0)


def test_silence_is_information() -> None:
    # lit long and nothing called: the rest of the way is not what it was at the lighting
    begun = belief_after(RAISING[:2])
    silent = estimate.predict(begun, 300.0 + 3600.0)
    first, later = (forecast.minutes_to(b, 120 * PSI).band for b in (begun, silent))
    assert later.mid > first.mid - 60.0 + 10.0


@pytest.mark.parametrize("outlier", [5.0, 95.0, 140.0, 0.0])
def test_one_outlier_does_not_wreck_it(outlier: float) -> None:
    before = forecast.minutes_to(belief_after(RAISING), 120 * PSI).band
    belief = belief_after((*RAISING, (3480.0, Report("pressure", outlier, "psi"))))
    after = forecast.minutes_to(belief, 120 * PSI).band
    assert after is not None
    assert after.mid == pytest.approx(before.mid - 1.0, rel=0.25)
    assert 40 * PSI < forecast.pressure(belief).mid < 56 * PSI


@pytest.mark.parametrize("pounds", [15.0, 95.0])
def test_two_in_a_row_are_believed(pounds: float) -> None:
    belief = belief_after(
        (
            *RAISING,
            (3480.0, Report("pressure", pounds, "psi")),
            (3600.0, Report("pressure", pounds + 2, "psi")),
        )
    )
    assert forecast.pressure(belief).mid == pytest.approx((pounds + 2) * PSI, abs=6 * PSI)


NONSENSE = [
    Report("pressure", math.nan, "psi"),
    Report("pressure", math.inf, "psi"),
    Report("pressure", 1e9, "psi"),
    Report("pressure", -200.0, "psi"),
    Report("pressure", 40.0, "glass"),
    Report("pressure", "high", "psi"),
    Report("water", 3.0, "glass"),
    Report("water", -1.0, "glass"),
    Report("water", 0.5, "psi"),
    Report("tank", 2.0, "tank"),
    Report("tank", 1e6, "litre"),
    Report("fire", "roaring"),
    Report("blower", 3.0),
    Report("gear", "out"),
]


@pytest.mark.parametrize("report", NONSENSE, ids=repr)
def test_nonsense_never_reaches_the_belief(report: Report) -> None:
    belief = belief_after(RAISING)
    after = estimate.update(belief, report, belief.at_s)
    assert after.history == belief.history
    assert forecast.pressure(after) == forecast.pressure(belief)


@pytest.mark.parametrize("at_s", [math.nan, math.inf, -math.inf])
def test_times_that_are_no_numbers_change_nothing(at_s: float) -> None:
    belief = belief_after(RAISING)
    after = estimate.update(belief, Report("pressure", 60, "psi"), at_s)
    assert (after.history, after.at_s) == (belief.history, belief.at_s)
    assert estimate.predict(belief, at_s) == belief


def test_a_late_word_takes_its_place_in_time() -> None:
    late = belief_after((*RAISING[:3], *RAISING[4:], RAISING[3]))
    assert late.history == belief_after(RAISING).history
    assert late.at_s == RAISING[-1][0]


def test_a_reading_taken_back_was_never_made() -> None:
    belief = belief_after((*RAISING, (3480.0, Report("pressure", 95, "psi"))))
    back = estimate.retracted(belief, Report("pressure", 95, "psi"), 3480.0)
    assert back.history == belief_after(RAISING).history


def test_same_in_same_out() -> None:
    one, two = belief_after(RAISING), belief_after(RAISING)
    assert forecast_summary(one, 120 * PSI) == forecast_summary(two, 120 * PSI)


# --- chance and objection -----------------------------------------------------------------------


def test_chances_of_the_dial_add_up_to_one() -> None:
    belief = belief_after(RAISING)
    dial = range(0, 241, 5)
    total = sum(estimate.chance(belief, Report("pressure", p, "psi")) for p in dial)
    assert total == pytest.approx(1.0, abs=0.05)


def test_the_believed_value_is_likelier_than_its_sound_alikes() -> None:
    belief = estimate.predict(belief_after(RAISING), 3480.0)
    likely = estimate.chance(belief, Report("pressure", 50, "psi"))
    assert likely > 10 * estimate.chance(belief, Report("pressure", 15, "psi"))
    assert estimate.chance(belief, Report("pressure", 15, "psi")) > 0.0
    assert estimate.chance(belief, Report("water", 0.625, "glass")) > estimate.chance(
        belief, Report("water", 0.125, "glass")
    )


def test_chance_of_other_things() -> None:
    belief = belief_after(RAISING)
    assert estimate.chance(belief, Report("blower", "half")) is None
    assert estimate.chance(belief, Report("gear", "out")) is None
    assert estimate.chance(belief, Report("pressure", 900, "psi")) == 0.0
    assert estimate.chance(belief, Report("pressure", 3.0, "bar")) > 0.0


def test_what_no_fire_can_do_is_objected_to() -> None:
    belief = estimate.predict(
        belief_after((*RAISING, (3600.0, Report("pressure", 60, "psi")))), 3660.0
    )
    assert estimate.objection(belief, Report("pressure", 120, "psi")) == "60 to 120 in 1 minute"
    assert estimate.objection(belief, Report("pressure", 65, "psi")) is None
    assert "off the gauge" in estimate.objection(belief, Report("pressure", 900, "psi"))
    assert estimate.objection(belief, Report("blower", "open")) is None


def test_a_glass_that_jumps_is_objected_to() -> None:
    belief = belief_after((*RAISING, (3420.0, Report("water", 0.625, "glass"))))
    later = estimate.predict(belief, 3480.0)
    assert "glass" in estimate.objection(later, Report("water", 0.0, "glass"))
    assert estimate.objection(later, Report("water", 0.75, "glass")) is None


def test_an_engine_taken_over_warm_needs_no_lighting() -> None:
    belief = belief_after(
        (
            (0.0, Report("pressure", 60, "psi")),
            (0.0, Report("water", 0.6, "glass")),
            (150.0, Report("pressure", 70, "psi")),
            (300.0, Report("pressure", 80, "psi")),
        ),
        COPPER,
    )
    minutes = forecast.minutes_to(belief, 95 * PSI).band
    # ten pounds in two and a half minutes, twice
    assert 2.0 < minutes.mid < 5.0
    assert water_forecast.water(belief).mid == pytest.approx(0.6, abs=0.1)
