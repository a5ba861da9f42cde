"""What was reported so far, in SI and in order of time. Says why a report is no use.

Pressures here are gauge [Pa], heights fractions of the glass, volumes m3, times seconds.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from assistant.boiler.figures import Engine
from assistant.boiler.scales import LENGTH_M, PRESSURE_PA, PSI_PA, VOLUME_M3, number
from assistant.messages import OUT_OF_SIGHT, Report

AT_REST_PA = 0.5 * PSI_PA  # a needle called no higher than this has not moved

# Things with a state in a word, and the words (the readings file's).
STATES: dict[str, frozenset[str]] = {
    "fire": frozenset({"lit", "built", "coal", "banked", "drawn"}),
    "blower": frozenset({"shut", "crack", "half", "open"}),
    "damper": frozenset({"shut", "crack", "half", "open"}),
    "regulator": frozenset({"shut", "open"}),
    "drains": frozenset({"shut", "open"}),
    "feed": frozenset({"on", "off"}),
    "valve": frozenset({"shut", "feathering", "lifting"}),
}


@dataclass(frozen=True, slots=True)
class Pressure:
    """A pressure called from the gauge: [Pa gauge], and how big one of its units is [Pa]."""

    at_s: float
    gauge_pa: float
    unit_pa: float


@dataclass(frozen=True, slots=True)
class Water:
    """A level called from the glass; None when it was out of sight."""

    at_s: float
    height: float | None


@dataclass(frozen=True, slots=True)
class Tank:
    """What is left in the tank [m3]."""

    at_s: float
    volume_m3: float


@dataclass(frozen=True, slots=True)
class Act:
    """Something was done or changed its state: what, and the word for it."""

    at_s: float
    what: str
    state: str


Fact = Pressure | Water | Tank | Act
NEVER_TOLD: tuple[list[float], list[str]] = [], []


class Acts(tuple[Act, ...]):
    """What was done, in order of time; sorted by thing once for all histories that share it."""

    @cached_property
    def told(self) -> dict[str, tuple[list[float], list[str]]]:
        """Of each thing the times at which it was reported [s], and the words."""
        told: dict[str, tuple[list[float], list[str]]] = {}
        for act in self:
            times, words = told.setdefault(act.what, ([], []))
            times.append(act.at_s)
            words.append(act.state)
        return told

    @cached_property
    def times(self) -> list[float]:
        """When each was done [s]."""
        return [act.at_s for act in self]

    def between(self, from_s: float, to_s: float) -> tuple[Act, ...]:
        """What was done from one time to another, both ends included."""
        return self[bisect_left(self.times, from_s) : bisect_right(self.times, to_s)]


@dataclass(frozen=True)
class History:
    """Everything usable that was reported, each kind in order of time."""

    pressures: tuple[Pressure, ...] = ()
    waters: tuple[Water, ...] = ()
    tanks: tuple[Tank, ...] = ()
    acts: Acts = field(default_factory=Acts)

    def with_fact(self, fact: Fact) -> History:
        """This history and one fact more. A reading replaces one of its kind at the same time."""
        match fact:
            case Pressure():
                return replace(self, pressures=_put(self.pressures, fact))
            case Water():
                return replace(self, waters=_put(self.waters, fact))
            case Tank():
                return replace(self, tanks=_put(self.tanks, fact))
        others = tuple(a for a in self.acts if (a.at_s, a.what) != (fact.at_s, fact.what))
        return replace(self, acts=Acts(sorted((*others, fact), key=lambda act: act.at_s)))

    def without(self, fact: Fact) -> History:
        """This history less one fact."""
        return History(
            tuple(x for x in self.pressures if x != fact),
            tuple(x for x in self.waters if x != fact),
            tuple(x for x in self.tanks if x != fact),
            Acts(x for x in self.acts if x != fact),
        )

    def state(self, what: str, at_s: float = math.inf) -> str | None:
        """The last word reported for a thing at or before a time, or None."""
        times, words = self.acts.told.get(what, NEVER_TOLD)
        told = bisect_right(times, at_s)
        return words[told - 1] if told else None

    def since(self, what: str, *states: str) -> float | None:
        """Since when a thing has stood in one of these states unbroken; None if it does not."""
        start = None
        for act in self.acts:
            if act.what == what:
                start = (act.at_s if start is None else start) if act.state in states else None
        return start

    @cached_property
    def lit_s(self) -> float | None:
        """When the fire was first lit, or None."""
        return next((a.at_s for a in self.acts if (a.what, a.state) == ("fire", "lit")), None)

    @cached_property
    def step_pa(self) -> float:
        """The step people round their pressures to [Pa]."""
        return rounding_pa(self.pressures)

    def of_this_fire(self) -> History:
        """This history less the needle at rest before the lighting: it says nothing of the fire."""
        lit_s = self.lit_s
        if lit_s is None:
            return self
        told = tuple(p for p in self.pressures if p.at_s >= lit_s or p.gauge_pa > AT_REST_PA)
        return replace(self, pressures=told)

    @property
    def last_s(self) -> float:
        """Time of the newest fact; minus infinity without one."""
        kinds = (self.pressures, self.waters, self.tanks, self.acts)
        return max((kind[-1].at_s for kind in kinds if kind), default=-math.inf)


Reading = TypeVar("Reading", Pressure, Water, Tank)


def _put(rows: tuple[Reading, ...], row: Reading) -> tuple[Reading, ...]:
    kept: list[Reading] = [other for other in rows if other.at_s != row.at_s]
    kept.insert(bisect_right([other.at_s for other in kept], row.at_s), row)
    return tuple(kept)


def report_fault(engine: Engine, report: Report) -> str | None:
    """Why the boiler's belief can make no use of a report, in words; None when it can.

    None as well for what is not the boiler's (`is_about_boiler`): other subjects, and a list's own
    words about one of ours ("needle on the pin", "fire run down").
    """
    if not is_about_boiler(report) or isinstance(report.value, str):
        return None
    if report.what in STATES:
        return f"{report.what} {report.value} is not a state the boiler knows"
    try:
        value = number(report)
    except ValueError as error:
        return str(error)
    return _number_fault(engine, report, value)


def _number_fault(engine: Engine, report: Report, value: float) -> str | None:
    unit = report.unit
    if report.what == "pressure":
        if unit not in PRESSURE_PA:
            return f"a pressure in {unit!r}"
        gauge_pa = value * PRESSURE_PA[unit]
        if not -engine.atmosphere_pa <= gauge_pa <= 1.02 * engine.dial_top_gauge_pa:
            return f"{value:g} {unit} is off the gauge"
        return None
    if report.what == "water":
        if unit != "glass" and unit not in LENGTH_M:
            return f"a water level in {unit!r}"
        in_glass = value if unit == "glass" else value * LENGTH_M[unit] / engine.glass.visible_m
        return None if -1e-9 <= in_glass <= 1.0 + 1e-9 else f"{value:g} {unit} is off the glass"
    if unit == "tank":
        return None if 0.0 <= value <= 1.0 else f"{value:g} of the tank"
    if unit not in VOLUME_M3:
        return f"a tank level in {unit!r}"
    most = engine.tank_m3 if engine.tank_m3 is not None else math.inf
    fits = 0.0 <= value * VOLUME_M3[unit] <= 1.02 * most
    return None if fits else f"{value:g} {unit} is not in the tank"


def is_about_boiler(report: Report) -> bool:
    """Whether a report says something that the belief follows."""
    if isinstance(report.value, str):
        return report.value in STATES.get(report.what, frozenset({OUT_OF_SIGHT})) and (
            report.what in STATES or report.what == "water"
        )
    return report.what in STATES or report.what in {"pressure", "water", "tank"}


def fact_of(engine: Engine, report: Report, at_s: float) -> Fact | None:
    """The report in SI; None when it is not of the boiler, or `report_fault` objects to it."""
    if not math.isfinite(at_s) or not is_about_boiler(report) or report_fault(engine, report):
        return None
    if report.what in STATES:
        return Act(at_s, report.what, str(report.value))
    if report.value == OUT_OF_SIGHT:
        return Water(at_s, None)
    value, unit = number(report), report.unit or ""
    if report.what == "pressure":
        return Pressure(at_s, value * PRESSURE_PA[unit], PRESSURE_PA[unit])
    if report.what == "water":
        height = value if unit == "glass" else value * LENGTH_M[unit] / engine.glass.visible_m
        return Water(at_s, min(max(height, 0.0), 1.0))
    if unit == "tank":
        return None if engine.tank_m3 is None else Tank(at_s, value * engine.tank_m3)
    return Tank(at_s, value * VOLUME_M3[unit])


def rounding_pa(pressures: tuple[Pressure, ...]) -> float:
    """The step people round their pressures to [Pa], learned from what they called.

    The largest of the usual steps that all but one in eight of the readings are multiples of; a
    single reading counts for steps up to five pounds.
    """
    if not pressures:
        return 5.0 * PSI_PA
    unit = pressures[-1].unit_pa
    same = [p.gauge_pa for p in pressures if p.unit_pa == unit and p.gauge_pa > 0.0]
    values = np.array(same) / unit
    steps = _usual_steps(unit)
    few = len(set(same)) < 3
    for step in steps:
        if few and step * unit > 5.5 * PSI_PA:
            continue
        if _off(values, step, 0.01) * 8 <= len(values):
            return step * unit
    return steps[-1] * unit


def _usual_steps(unit_pa: float) -> tuple[float, ...]:
    if unit_pa < 5000.0:
        return (50.0, 25.0, 20.0, 10.0, 5.0)  # kPa
    if unit_pa < 50_000.0:
        return (10.0, 5.0, 2.0, 1.0)  # psi
    return (0.5, 0.25, 0.2, 0.1, 0.05)  # bar, kgf/cm2


def rounding_height(waters: tuple[Water, ...]) -> float:
    """The step people round the glass to: quarters, eighths or tenths, or finer."""
    heights = np.array([w.height for w in waters if w.height is not None])
    few = len(set(heights.tolist())) < 3
    for step in (0.25, 0.125, 0.1, 0.05):
        if few and step == 0.25:
            continue
        if _off(heights, step, 0.02) * 8 <= len(heights):
            return step
    return 0.05


def _off(values: NDArray[np.float64], step: float, within: float) -> int:
    """How many are no multiples of the step, within a share of it."""
    steps = values / step
    return int((np.abs(steps - np.round(steps)) > within).sum())
