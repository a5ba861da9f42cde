"""Gauge against valve, folded from what was reported: when they contradict, and what ends it."""

from __future__ import annotations

import pytest
from boiler_engines import PSI, STEEL, belief_after

from assistant.belief import estimate, forecast
from assistant.belief.gauge_and_valve import FIGURE, GaugeAndValve, compared
from assistant.belief.history import Act, History, Pressure
from assistant.messages import Report

ENGINE = STEEL  # feathers at 132, lifts at 145 psi

NAMED = "named"
# (seconds, "pressure" in psi or what the valve does)
Story = list[tuple[float, float | str]]


def after(*story: tuple[float, float | str]) -> GaugeAndValve:
    history = History()
    for at_s, what in story:
        fact: Act | Pressure
        if isinstance(what, str):
            fact = Act(at_s, FIGURE if what == NAMED else "valve", what)
        else:
            fact = Pressure(at_s, what * PSI, PSI)
        history = history.with_fact(fact)
    return compared(history, ENGINE)


@pytest.mark.parametrize(
    "story",
    [
        [(0, 0.0), (3000, "lifting")],  # at rest, however long ago
        [(2900, 0.0), (3000, "feathering")],
        [(2800, 60.0), (3000, "lifting")],  # under half of the feather within five minutes
        [(3000, "lifting"), (3030, 0.0)],  # read just after
        [(0, 0.0), (3000, "lifting"), (3060, "shut")],  # it reseats, and that settles nothing
        [(0, 0.0), (3000, "lifting"), (3060, "shut"), (3100, 0.0)],
        [(0, 0.0), (3000, "lifting"), (3020, 40.0), (3040, "shut")],
    ],
)
def test_a_valve_that_moves_over_a_gauge_that_shows_nothing_like_it_is_a_danger(
    story: Story,
) -> None:
    conflict = after(*story).conflict
    assert conflict is not None
    assert conflict.grade == "danger"


@pytest.mark.parametrize("psi", [100.0, 118.0])
def test_a_gauge_somewhat_under_the_feather_is_a_warning(psi: float) -> None:
    conflict = after((2960, psi), (3000, "feathering")).conflict
    assert conflict is not None
    assert (conflict.grade, conflict.since_s) == ("warning", 3000)


@pytest.mark.parametrize(("psi", "before_s", "grade"), [(98.0, 40, "danger"), (98.0, 90, None)])
def test_under_three_quarters_of_the_feather_is_a_danger_if_called_as_it_moves(
    psi: float, before_s: int, grade: str | None
) -> None:
    conflict = after((3000 - before_s, psi), (3000, "feathering")).conflict
    assert (None if conflict is None else conflict.grade) == grade


FITS = [
    ("lifting", 141.0), ("lifting", 145.0), ("lifting", 149.0),
    ("feathering", 125.0), ("feathering", 132.0), ("feathering", 144.0),
]  # fmt: skip
DOES_NOT = [("lifting", 124.0), ("lifting", 137.0), ("lifting", 153.0),
            ("feathering", 121.0), ("feathering", 145.0)]  # fmt: skip


@pytest.mark.parametrize(("event", "psi"), FITS)
def test_a_gauge_that_fits_what_the_valve_did_agrees(event: str, psi: float) -> None:
    assert after((2960, psi), (3000, event)) == GaugeAndValve(agreed_s=3000)
    assert after((3000, event), (3040, psi)) == GaugeAndValve(agreed_s=3040, unread_s=None)


@pytest.mark.parametrize(("event", "psi"), DOES_NOT)
def test_one_that_fits_the_other_event_or_none_does_not(event: str, psi: float) -> None:
    assert after((2960, psi), (3000, event)) == GaugeAndValve(unfit=True)
    assert after((3000, event), (3040, psi)) == GaugeAndValve(unfit=True)


def test_called_in_fives_a_lift_of_145_agrees_at_140_and_150_and_not_at_135() -> None:
    fives = [(600.0 * n, 5.0 * n) for n in range(1, 6)]
    for psi, agrees in ((135.0, False), (140.0, True), (150.0, True), (155.0, False)):
        told = after(*fives, (3990, psi), (4000, "lifting"))
        assert (told.agreed_s is not None) == agrees, psi


def test_at_what_it_is_set_said_by_a_named_person_ends_it() -> None:
    assert not after((2960, 124.0), (3000, "lifting"), (3100, NAMED)).unfit


def test_an_old_reading_half_way_up_asks_for_the_gauge_and_claims_nothing() -> None:
    assert after((2000, 100.0), (3000, "lifting")) == GaugeAndValve(unread_s=3000)
    assert after((3000, "lifting")) == GaugeAndValve(unread_s=3000)


@pytest.mark.parametrize(
    "settled",
    [
        [(4000, "lifting"), (4030, 140.0)],  # moving, with a gauge that fits
        # shut, after a gauge that has moved and fits a valve that blew down for over a minute
        [(3090, 100.0), (3110, "shut")],
    ],
)
def test_only_a_gauge_that_fits_ends_it(settled: Story) -> None:
    story: Story = [(0, 0.0), (3000, "lifting")]
    assert after(*story).conflict is not None
    assert after(*story, *settled).conflict is None


@pytest.mark.parametrize(
    "nothing",
    [
        [(3200, 140.0)],  # a reading alone: the valve was seen minutes before
        [(3020, 0.0), (3040, "shut")],  # the gauge has not moved
        [(3020, 60.0), (3040, "shut")],  # it has, and does not fit
        [(3020, 100.0), (3040, "shut")],  # called as it lifts, and too low for that
        [(3400, 125.0), (3440, "shut")],  # too long after the lift
    ],
)
def test_what_does_not_end_it(nothing: Story) -> None:
    assert after((0, 0.0), (3000, "lifting"), *nothing).conflict is not None


def test_a_worse_contradiction_makes_it_worse_and_keeps_its_beginning() -> None:
    conflict = after((2960, 100.0), (3000, "feathering"), (3030, 20.0)).conflict
    assert conflict is not None
    assert (conflict.grade, conflict.since_s) == ("danger", 3000)


def test_without_the_retracted_report_it_never_was() -> None:
    """Folded anew without the valve's movement, as a retraction does."""
    assert after((0, 0.0), (3100, 0.0)) == GaugeAndValve()


def test_while_they_contradict_nobody_is_told_minutes() -> None:
    """Raised on a gauge that shows nothing: the valve is the better witness."""
    rows = [(0.0, Report("water", 0.5, "glass")), (60.0, Report("fire", "lit"))]
    rows += [(600.0 * n, Report("pressure", 0.0, "psi")) for n in range(1, 5)]
    before = belief_after(rows, ENGINE)
    after_lift = belief_after([*rows, (2500.0, Report("valve", "lifting"))], ENGINE)
    target = ENGINE.working_pressure_gauge_pa
    assert forecast.minutes_to(before, target).band is not None
    told = forecast.minutes_to(after_lift, target)
    assert (told.band, told.why) == (None, "gauge and valve disagree")
    shut = estimate.update(after_lift, Report("valve", "shut"), 2600.0)
    assert forecast.minutes_to(shut, target).band is None
    right = estimate.update(after_lift, Report("pressure", 140.0, "psi"), 2530.0)
    assert forecast.minutes_to(right, target).band is not None
