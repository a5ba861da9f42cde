"""The whole picture: its conditions and proofs, and what holds whatever was reported."""

from __future__ import annotations

import pytest
from hypothesis import given as any_of
from hypothesis import settings
from hypothesis import strategies as st
from picture_story import given, glass, picture, psi

from assistant.messages import OUT_OF_SIGHT, Report
from assistant.picture.picture import CONDITIONS, PROOFS, Picture, picture_of
from assistant.picture.report_log import ReportLog, TimedReport

STATES = {
    "fire": ("laid", "lit", "built", "coal", "bright", "banked", "watched", "drawn", "dead", "odd"),
    "water": (OUT_OF_SIGHT,),
    "valve": ("shut", "feathering", "lifting"),
    "vent": ("blows steam", "blows air"),
    "glass": ("comes back at once", "stays empty", "does not move", "new glass proved"),
    "emergency": ("glass broken", "over", "steam escaping"),
    "boiler": ("looked at", "tight"),
    "bypass": ("shut", "open"),
    "feed": ("on", "off"),
    "injector": ("works", "fails"),
    "hand pump": ("works", "fails"),
    "delivery": ("gaining", "gives no gain", "hot"),
    "cure": ("pump_trouble", "injector_trouble", "blower_weak"),
    "pump trouble": ("cured", "still there"),
    "feed test": ("done today",),
    "regulator": ("shut", "open"),
    "drains": ("shut", "open"),
    "gear": ("in", "out"),
    "brake": ("on", "not chocked"),
    "blower": ("half",),
}
states = st.sampled_from([Report(what, value) for what, vs in STATES.items() for value in vs])
pressures = st.sampled_from([Report("pressure", p, "psi") for p in (0, 1, 5, 60, 132, 146)])
odd = st.sampled_from([Report("pressure", 5.0, "furlong"), Report("pressure", "on the pin")])
levels = st.sampled_from([Report("water", h / 8, "glass") for h in range(9)])
logs = st.lists(
    st.tuples(st.floats(0.0, 900.0), st.one_of(states, pressures, levels, levels, odd)), max_size=30
)


def told(gaps: list[tuple[float, Report]]) -> list[TimedReport]:
    at, timed = 0.0, []
    for gap, report in gaps:
        at += gap
        timed.append(TimedReport(report, at))
    return timed


def expansion(t0: float, t1: float) -> float:
    return 1e-5 * (t1 - t0)


@settings(max_examples=150, deadline=None)
@any_of(logs, st.floats(0.0, 4000.0), st.booleans(), st.sampled_from([(), ((600.0, 2000.0),)]))
def test_whatever_was_reported_there_is_a_picture_and_nothing_good_without_a_witness(
    gaps: list[tuple[float, Report]],
    later: float,
    warm: bool,
    breaks: tuple[tuple[float, float], ...],
) -> None:
    timed = told(gaps)
    at = (timed[-1].at if timed else 0.0) + later
    known = {"warm_since": 0.0 if warm else None, "breaks": breaks, "expansion": expansion}
    whole = picture_of(given(ReportLog(timed), at, **known))  # type: ignore[arg-type]
    nothing_good_without_a_witness(whole)
    for name in CONDITIONS:
        assert whole.true_of(name) in (True, False)
    grown = ReportLog()
    for one in timed:
        grown = grown.and_one(one)
        picture_of(given(grown, one.at, **known))  # type: ignore[arg-type]
    assert picture_of(given(grown, at, **known)) == whole  # type: ignore[arg-type]


def nothing_good_without_a_witness(told: Picture) -> None:
    water, glass_, valve = told.water, told.glass, told.valve
    assert water.witnesses or not (water.known or told.proves("water seen"))
    assert not water.known or water.level is not None
    assert glass_.witnesses or not told.proves("glass proved")
    assert told.gauge.witnesses or told.gauge.value != "believed"
    assert valve.witnesses or valve.value != "shut"
    assert told.steam.witnesses
    assert told.fire.witnesses
    for feed in told.feeds.by_name.values():
        assert feed.witnesses or feed.value == "untried"
    motion = told.motion
    for part in (motion.regulator, motion.drains, motion.gear, motion.brake, told.blower):
        assert part.witnesses or part.value == "unknown"


def test_nothing_is_proved_before_anything_was_reported() -> None:
    empty = picture_of(given(ReportLog(), 0.0))
    assert [name for name in PROOFS if empty.proves(name)] == []
    assert [name for name in CONDITIONS if empty.true_of(name)] == ["cold"]


def test_the_conditions_of_a_step() -> None:
    lit = picture((0, glass(0.5)), (1, Report("fire", "lit")))
    assert [name for name in CONDITIONS if lit.true_of(name)] == ["cold", "fire in"]
    steam = picture((1, Report("fire", "lit")), (40, psi(60)), (41, Report("regulator", "shut")))
    assert [name for name in CONDITIONS if steam.true_of(name)] == ["fire in", "steam"]
    opened = picture((40, psi(60)), (41, Report("regulator", "open")))
    assert opened.true_of("motion")
    assert picture((40, psi(60))).true_of("motion"), "not known to be shut"


def test_an_unknown_word_is_an_error() -> None:
    with pytest.raises(KeyError):
        picture((0, psi(0))).true_of("warmish")
    with pytest.raises(KeyError):
        picture((0, psi(0))).proves("all well")


def test_water_is_seen_while_its_level_is_young_and_believed() -> None:
    steam = ((0, psi(60)), (1, glass(0.5)))
    assert picture(*steam).proves("water seen")
    assert picture((0, psi(60)), (1, glass(0.25))).proves("water seen"), "at the mark"
    assert not picture(*steam, minute=7).proves("water seen"), "old"
    assert not picture(*steam, (2, Report("water", OUT_OF_SIGHT))).proves("water seen")


def test_gauge_and_valve_agree_only_without_a_conflict() -> None:
    assert picture((0, psi(132)), agreed=True).proves("valve and gauge agree")
    assert not picture((0, psi(132)), agreed=True, conflict="warning").proves(
        "valve and gauge agree"
    )
