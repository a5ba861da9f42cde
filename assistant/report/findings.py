"""What a story shows besides its readings: tests made, water and fuel used, times to a pressure."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from assistant.belief import consumption, estimate
from assistant.boiler.scales import LITRE_M3, PRESSURE_PA, VOLUME_M3, pressure_gauge_pa, volume_m3
from assistant.messages import Report
from assistant.report.outcomes import Outcome, is_test, outcome
from assistant.report.story import Story
from assistant.report.story_values import Call

NEAR_S = 300.0  # a gauge reading this near to a test is shown with it: common practice, no source
TESTS: dict[str, str] = {
    "safety valve": "safety valve by hand",
    "valve": "safety valve under steam",
    "glass": "gauge glass blown through",
    "hand pump": "feed: hand pump",
    "injector": "feed: injector",
    "delivery": "feed: geared pump",
    "lubricator": "lubricator",
}


@dataclass(frozen=True, slots=True)
class EquipmentTest:
    """A test of glass, feed or valve, and how it came out."""

    at_s: float
    name: str
    result: str
    """as called"""
    outcome: Outcome
    """what the journal shows of it"""
    gauge: Report | None
    """the pressure called nearest to it; None: none near"""
    gauge_off_s: float
    """how much later than the test that was called [s]"""


def made_tests(story: Story) -> tuple[EquipmentTest, ...]:
    """Glass, feed and valve tests in the order of time, each with the gauge reading nearest it."""
    calls = story.standing
    pressures = [c for c in calls if is_pressure(c.report)]
    return tuple(
        _test(story, call, pressures)
        for call in calls
        if call.report.what in TESTS and is_test(call.report)
    )


def _test(story: Story, call: Call, pressures: list[Call]) -> EquipmentTest:
    nearest = min(pressures, key=lambda p: abs(p.at_s - call.at_s), default=None)
    if nearest is not None and abs(nearest.at_s - call.at_s) > NEAR_S:
        nearest = None
    return EquipmentTest(
        call.at_s,
        TESTS[call.report.what],
        str(call.report.value),
        outcome(story, call),
        None if nearest is None else nearest.report,
        0.0 if nearest is None else nearest.at_s - call.at_s,
    )


def is_pressure(report: Report) -> bool:
    """Whether it is a pressure with a number and a known unit."""
    return (
        report.what == "pressure"
        and report.unit in PRESSURE_PA
        and not isinstance(report.value, str)
    )


@dataclass(frozen=True, slots=True)
class WaterAndFuel:
    """Water and fuel used in a run; None where nothing shows it."""

    fed_m3: float | None
    """out of the tank, by its own readings"""
    water_kg: float | None
    """out of the boiler, by the belief, rough"""
    fuel_kg: float | None
    """coal burnt, by the belief, rough"""


def used_in_run(story: Story) -> WaterAndFuel:
    """What was used."""
    used = None
    if story.engine is not None and story.standing:
        belief = estimate.begin(story.engine.engine, 0.0)
        for call in story.standing:
            belief = estimate.update(belief, call.report, call.at_s)
        used = consumption.used(belief)
    return WaterAndFuel(
        _fed_m3(story),
        None if used is None else used.water_kg,
        None if used is None else used.fuel_kg,
    )


def _fed_m3(story: Story) -> float | None:
    """The falls of the tank added up; a rise is a refill and does not count."""
    tank_m3 = None if story.engine is None else story.engine.engine.tank_m3
    levels = []
    for call in story.standing:
        report = call.report
        if report.what != "tank" or isinstance(report.value, str):
            continue
        if report.unit in VOLUME_M3:
            levels.append(volume_m3(report))
        elif report.unit == "tank" and tank_m3 is not None:
            levels.append(report.value * tank_m3)
    if len(levels) < 2:
        return None
    return sum(max(before - after, 0.0) for before, after in pairwise(levels))


def litres(m3: float) -> float:
    """Cubic metres in litres."""
    return m3 / LITRE_M3


def lit_s(story: Story) -> float | None:
    """When the fire was first lit; None when that was never called."""
    return next((c.at_s for c in story.standing if c.report == Report("fire", "lit")), None)


def reached_s(story: Story, gauge_pa: float) -> float | None:
    """When a pressure was reached, linear between the call below and the call above."""
    before: tuple[float, float] | None = None
    for call in story.standing:
        if not is_pressure(call.report):
            continue
        now = (call.at_s, pressure_gauge_pa(call.report))
        if now[1] >= gauge_pa:
            if before is None or now[1] == before[1]:
                return now[0]
            part = (gauge_pa - before[1]) / (now[1] - before[1])
            return before[0] + part * (now[0] - before[0])
        before = now
    return None


def peak(story: Story) -> Report | None:
    """The highest pressure that was called."""
    called = [call.report for call in story.standing if is_pressure(call.report)]
    return max(called, key=pressure_gauge_pa, default=None)
