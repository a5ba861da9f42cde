"""What was reported so far, in SI and in order of time. Says why a report cannot be used.

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

AT_REST_PA = 0.5 * PSI_PA  # up to here the needle has not moved

# Subjects whose reports are one of a few words, and the words.
STATES: dict[str, frozenset[str]] = {
    "fire": frozenset({"lit", "built", "coal", "banked", "drawn"}),
    "blower": frozenset({"shut", "crack", "half", "open"}),
    "damper": frozenset({"shut", "crack", "half", "open"}),
    "regulator": frozenset({"shut", "open"}),
    "drains": frozenset({"shut", "open"}),
    "feed": frozenset({"on", "off"}),
    "valve": frozenset({"shut", "feathering", "lifting"}),
}
# With what is said and never stands in a readings file: a named person owns the valve's figure.
_HEARD: dict[str, frozenset[str]] = {**STATES, "valve figure": frozenset({"named"})}


@dataclass(frozen=True, slots=True)
class Pressure:
    """A pressure read from the gauge."""

    at_s: float
    gauge_pa: float
    unit_pa: float
    """one unit of the reading [Pa]"""


@dataclass(frozen=True, slots=True)
class Water:
    """A level read from the glass [fraction]; None when it was out of sight."""

    at_s: float
    height: float | None


@dataclass(frozen=True, slots=True)
class Tank:
    """What is left in the tank [m3]."""

    at_s: float
    volume_m3: float


@dataclass(frozen=True, slots=True)
class Act:
    """A change of state: of what, and to which of `STATES`."""

    at_s: float
    what: str
    state: str


Fact = Pressure | Water | Tank | Act
NEVER_REPORTED: tuple[list[float], list[str]] = [], []


class Acts(tuple[Act, ...]):
    """Acts in order of time; histories that share them share the look-up by subject."""

    @cached_property
    def by_subject(self) -> dict[str, tuple[list[float], list[str]]]:
        """For each subject the times at which it was reported [s], and the states."""
        found: dict[str, tuple[list[float], list[str]]] = {}
        for act in self:
            times, states = found.setdefault(act.what, ([], []))
            times.append(act.at_s)
            states.append(act.state)
        return found

    @cached_property
    def times(self) -> list[float]:
        """The time of each [s]."""
        return [act.at_s for act in self]

    def between(self, from_s: float, to_s: float) -> tuple[Act, ...]:
        """The acts from one time to another, both ends included."""
        return self[bisect_left(self.times, from_s) : bisect_right(self.times, to_s)]


@dataclass(frozen=True)
class History:
    """Every usable report, each kind in order of time."""

    pressures: tuple[Pressure, ...] = ()
    waters: tuple[Water, ...] = ()
    tanks: tuple[Tank, ...] = ()
    acts: Acts = field(default_factory=Acts)

    def with_fact(self, fact: Fact) -> History:
        """With one fact more. A reading replaces one of its kind at the same time."""
        match fact:
            case Pressure():
                return replace(self, pressures=_inserted(self.pressures, fact))
            case Water():
                return replace(self, waters=_inserted(self.waters, fact))
            case Tank():
                return replace(self, tanks=_inserted(self.tanks, fact))
        others = tuple(a for a in self.acts if (a.at_s, a.what) != (fact.at_s, fact.what))
        return replace(self, acts=Acts(sorted((*others, fact), key=lambda act: act.at_s)))

    def without(self, fact: Fact) -> History:
        """With one fact less."""
        return History(
            tuple(x for x in self.pressures if x != fact),
            tuple(x for x in self.waters if x != fact),
            tuple(x for x in self.tanks if x != fact),
            Acts(x for x in self.acts if x != fact),
        )

    def state(self, what: str, at_s: float = math.inf) -> str | None:
        """The last state reported of a subject at or before a time, or None."""
        times, states = self.acts.by_subject.get(what, NEVER_REPORTED)
        count = bisect_right(times, at_s)
        return states[count - 1] if count else None

    def since(self, what: str, *states: str) -> float | None:
        """Since when a subject has been in one of these states unbroken; None if it is not."""
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
        """Without the needle at rest before the lighting, which says nothing of the fire."""
        lit_s = self.lit_s
        if lit_s is None:
            return self
        counted = tuple(p for p in self.pressures if p.at_s >= lit_s or p.gauge_pa > AT_REST_PA)
        return replace(self, pressures=counted)

    @property
    def last_s(self) -> float:
        """Time of the newest fact; minus infinity without one."""
        kinds = (self.pressures, self.waters, self.tanks, self.acts)
        return max((kind[-1].at_s for kind in kinds if kind), default=-math.inf)


Reading = TypeVar("Reading", Pressure, Water, Tank)


def _inserted(rows: tuple[Reading, ...], row: Reading) -> tuple[Reading, ...]:
    others: list[Reading] = [other for other in rows if other.at_s != row.at_s]
    others.insert(bisect_right([other.at_s for other in others], row.at_s), row)
    return tuple(others)


def report_fault(engine: Engine, report: Report) -> str | None:
    """Why the belief cannot use a report, in words; None when it can.

    None as well for what is not about the boiler (`is_about_boiler`): other subjects, and answers
    to a checklist about the same subject ("needle on the pin", "fire run down").
    """
    if not is_about_boiler(report) or isinstance(report.value, str):
        return None
    if report.what in _HEARD:
        return f"{report.what} {report.value} is not a state the boiler knows"
    try:
        value = number(report)
    except ValueError as error:
        return str(error)
    return _number_fault(engine, report, value)


def _number_fault(engine: Engine, report: Report, value: float) -> str | None:
    """Why a number is not one of the gauge, the glass or the tank; None when it is."""
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
        return report.value in _HEARD.get(report.what, frozenset({OUT_OF_SIGHT})) and (
            report.what in _HEARD or report.what == "water"
        )
    return report.what in _HEARD or report.what in {"pressure", "water", "tank"}


def fact_of(engine: Engine, report: Report, at_s: float) -> Fact | None:
    """The report in SI; None when it is not about the boiler or has a `report_fault`."""
    if not math.isfinite(at_s) or not is_about_boiler(report) or report_fault(engine, report):
        return None
    if report.what in _HEARD:
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
    """The step people round their pressures to [Pa], learned from the readings.

    The largest of the usual steps of which all but one in eight of the readings are multiples;
    fewer than three different readings show steps up to five pounds only.
    """
    if not pressures:
        return 5.0 * PSI_PA
    unit = pressures[-1].unit_pa
    same = [p.gauge_pa for p in pressures if p.unit_pa == unit and p.gauge_pa > 0.0]
    values = np.array(same) / unit
    steps = _rounding_steps(unit)
    few = len(set(same)) < 3
    for step in steps:
        if few and step * unit > 5.5 * PSI_PA:
            continue
        if _off_step(values, step, 0.01) * 8 <= len(values):
            return step * unit
    return steps[-1] * unit


def _rounding_steps(unit_pa: float) -> tuple[float, ...]:
    """The steps that people round to in a unit, largest first."""
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
        if _off_step(heights, step, 0.02) * 8 <= len(heights):
            return step
    return 0.05


def _off_step(values: NDArray[np.float64], step: float, within: float) -> int:
    """How many are not multiples of the step, to within a part of it."""
    steps = values / step
    return int((np.abs(steps - np.round(steps)) > within).sum())
