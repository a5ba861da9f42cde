"""What was reported: in order of time, in SI, and what cannot be used."""

from __future__ import annotations

import math

import pytest
from boiler_engines import PSI, STEEL
from hypothesis import given
from hypothesis import strategies as st

from assistant.belief.history import (
    Act,
    Fact,
    History,
    Pressure,
    Tank,
    Water,
    fact_of,
    report_fault,
    rounding_height,
    rounding_pa,
)
from assistant.messages import Report

facts = st.one_of(
    st.builds(Pressure, st.sampled_from([0.0, 60.0, 120.0]), st.floats(0, 1e6), st.just(PSI)),
    st.builds(Water, st.sampled_from([0.0, 60.0]), st.none() | st.floats(0, 1)),
    st.builds(Tank, st.sampled_from([0.0, 60.0]), st.floats(0, 1)),
    st.builds(Act, st.sampled_from([0.0, 60.0]), st.just("feed"), st.sampled_from(["on", "off"])),
)


@given(st.lists(facts, max_size=12))
def test_each_kind_is_in_order_and_has_one_fact_at_a_time(given_facts: list[Fact]) -> None:
    history = History()
    for fact in given_facts:
        history = history.with_fact(fact)
    for kind in (history.pressures, history.waters, history.tanks, history.acts):
        times = [fact.at_s for fact in kind]
        assert times == sorted(set(times))


def test_a_fact_taken_back_is_gone_and_the_rest_stays() -> None:
    first, second = Pressure(0.0, 1e5, PSI), Pressure(60.0, 2e5, PSI)
    both = History().with_fact(second).with_fact(first)
    assert both.without(second) == History().with_fact(first)


def test_states_at_a_time_and_since_when() -> None:
    history = History()
    for act in (Act(10.0, "feed", "on"), Act(20.0, "feed", "off"), Act(30.0, "feed", "on")):
        history = history.with_fact(act)
    assert [history.state("feed", at_s) for at_s in (5.0, 10.0, 25.0, 99.0)] == [
        None, "on", "off", "on",
    ]  # fmt: skip
    assert history.since("feed", "on") == 30.0
    assert history.since("feed", "off") is None
    assert history.state("blower") is None


def test_a_needle_at_rest_before_the_lighting_says_nothing_of_the_fire() -> None:
    history = History().with_fact(Act(100.0, "fire", "lit"))
    for at_s, gauge_pa in ((50.0, 0.0), (60.0, 2.0 * PSI), (150.0, 0.0)):
        history = history.with_fact(Pressure(at_s, gauge_pa, PSI))
    assert [p.at_s for p in history.of_this_fire().pressures] == [60.0, 150.0]


@pytest.mark.parametrize(
    ("report", "fact"),
    [
        (Report("pressure", 2, "bar"), Pressure(7.0, 200_000.0, 100_000.0)),
        (Report("water", 40, "mm"), Water(7.0, 0.25)),
        (Report("water", "out of sight"), Water(7.0, None)),
        (Report("tank", 0.5, "tank"), Tank(7.0, 0.0225)),
        (Report("damper", "shut"), Act(7.0, "damper", "shut")),
        (Report("gear", "out"), None),
        (Report("pressure", "needle on the pin"), None),
    ],
)
def test_reports_in_si(report: Report, fact: Fact | None) -> None:
    assert fact_of(STEEL, report, 7.0) == fact
    assert report_fault(STEEL, report) is None
    assert fact_of(STEEL, report, math.nan) is None


@pytest.mark.parametrize(
    ("report", "why"),
    [
        (Report("pressure", 900, "psi"), "off the gauge"),
        (Report("pressure", 2, "glass"), "a pressure in 'glass'"),
        (Report("pressure", math.nan, "psi"), "no finite number"),
        (Report("water", 1.2, "glass"), "off the glass"),
        (Report("tank", 60, "litre"), "not in the tank"),
        (Report("blower", 3.0), "not a state"),
    ],
)
def test_what_cannot_be_used_is_refused_with_a_reason(report: Report, why: str) -> None:
    assert why in (report_fault(STEEL, report) or "")
    assert fact_of(STEEL, report, 7.0) is None


@pytest.mark.parametrize(
    ("pounds", "step"),
    [
        ((), 5.0),
        ((20,), 5.0),
        ((20, 40, 60), 10.0),
        ((20, 35, 60), 5.0),
        ((21, 38, 62), 1.0),
        ((20, 22, 38, 64), 2.0),
        ((20, 40, 60, 70, 80, 90, 100, 113), 10.0),  # one in eight may be off the step
    ],
)
def test_the_step_people_round_pressures_to(pounds: tuple[int, ...], step: float) -> None:
    readings = tuple(Pressure(float(i), p * PSI, PSI) for i, p in enumerate(pounds))
    assert rounding_pa(readings) == pytest.approx(step * PSI)


@pytest.mark.parametrize(
    ("heights", "step"),
    [
        ((0.5,), 0.125),
        ((0.25, 0.5, 0.75), 0.25),
        ((0.375, 0.5, 0.625), 0.125),
        ((0.3, 0.4, 0.7), 0.1),
        ((0.32, 0.41, 0.73), 0.05),
    ],
)
def test_the_step_people_round_the_glass_to(heights: tuple[float, ...], step: float) -> None:
    assert rounding_height(tuple(Water(float(i), h) for i, h in enumerate(heights))) == step
