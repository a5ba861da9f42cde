"""From readings to unbroken rises and bounds on them."""

from __future__ import annotations

import pytest
from boiler_engines import PSI, STEEL

from assistant.belief.history import History, fact_of
from assistant.belief.reading_bounds import OUTLIER_CHANCE
from assistant.belief.segments import SegmentedRun, segments_of
from assistant.belief.temperature_grid import grid_of
from assistant.boiler.vessel import boiling_k
from assistant.messages import Report

GRID = grid_of(STEEL, 80.0)


def segmented(*rows: tuple[float, Report], now_s: float = 9000.0) -> SegmentedRun:
    history = History()
    for at_s, report in rows:
        fact = fact_of(STEEL, report, at_s)
        assert fact is not None
        history = history.with_fact(fact)
    return segments_of(STEEL, history.of_this_fire(), GRID, now_s)


def psi(at_s: float, pounds: float) -> tuple[float, Report]:
    return at_s, Report("pressure", pounds, "psi")


LIT = (0.0, Report("fire", "lit"))
RISE = (psi(2460, 5), psi(2760, 15), psi(3120, 30), psi(3420, 45))


def test_one_rise_from_the_lighting() -> None:
    run = segmented(LIT, *RISE)
    (segment,) = run.segments
    assert segment.from_lighting
    assert [bound.at_s for bound in run.bounds] == [2460.0, 2760.0, 3120.0, 3420.0]
    assert run.last == run.bounds[-1]
    for bound, pounds in zip(run.bounds, (5, 15, 30, 45), strict=True):
        read = GRID.position(boiling_k(pounds * PSI, STEEL.atmosphere_pa))
        assert bound.low < read < bound.high


@pytest.mark.parametrize("act", [Report("regulator", "open"), Report("fire", "drawn")])
def test_steam_taken_begins_another_rise(act: Report) -> None:
    run = segmented(LIT, *RISE, (3500.0, act), psi(3720, 60), psi(4020, 75))
    assert [bound.segment for bound in run.bounds] == [0, 0, 0, 0, 1, 1]


def test_a_fall_that_stays_begins_another_rise() -> None:
    run = segmented(LIT, *RISE, (3430.0, Report("feed", "on")), psi(3600, 35), psi(3900, 50))
    assert [bound.segment for bound in run.bounds] == [0, 0, 0, 0, 1, 1]


def test_an_engine_taken_over_warm_has_no_lighting() -> None:
    run = segmented(psi(0, 60), psi(150, 70))
    (segment,) = run.segments
    assert not segment.from_lighting
    assert segment.start > 0.0


def test_silence_after_the_lighting_bounds_the_rise() -> None:
    run = segmented(LIT, now_s=3600.0)
    assert run.last is None
    (bound,) = run.bounds
    assert bound.at_s < 3600.0  # a first movement may go unreported for a while
    assert bound.low == 0.0
    assert bound.high < GRID.position(boiling_k(5 * PSI, STEEL.atmosphere_pa))
    assert segmented(LIT, now_s=60.0).bounds == ()


def test_readings_that_others_confirm_are_no_outliers() -> None:
    run = segmented(LIT, psi(2460, 5), psi(2760, 45))
    assert [bound.outlier for bound in run.bounds] == [OUTLIER_CHANCE, OUTLIER_CHANCE]
    stepwise = segmented(LIT, psi(2460, 5), psi(4800, 10), psi(5400, 80))
    assert [bound.outlier for bound in stepwise.bounds] == [0.0, 0.0, OUTLIER_CHANCE]


def test_of_a_long_day_the_raising_and_the_newest_readings_count() -> None:
    day = [psi(3600.0 + 300.0 * i, 120) for i in range(60)]
    run = segmented(LIT, *RISE, *day)
    times = [bound.at_s for bound in run.bounds]
    assert times[:5] == [2460.0, 2760.0, 3120.0, 3420.0, 3600.0]
    assert min(times[5:]) >= day[-1][0] - 5400.0
    assert run.bounds[5].segment > run.bounds[4].segment
