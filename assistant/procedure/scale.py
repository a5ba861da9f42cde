"""Readings and the engine's figures on one scale, so that they can be compared with limits.

Pressure in Pa gauge, water and tank in fractions. Knows no checklist's contents and no physics.
"""

from __future__ import annotations

from assistant.boiler import scales
from assistant.boiler.figures import GEARED, ON_WHEELS, Engine
from assistant.boiler.scales import PSI_PA
from assistant.messages import Report
from assistant.procedure.checklist import Bound, Limits


def figure(engine: Engine, name: str) -> float:
    """The engine's figure of that name (see `checklist.FIGURES`); KeyError for another name.

    One that the engine's file leaves out is the lift: "valve feathers", "allowed pressure"; and a
    part of the working pressure: "injector from".
    """
    return {
        "lower mark": engine.glass.lower_mark,
        "upper mark": engine.glass.upper_mark,
        "cold fill": engine.glass.cold_fill,
        "working pressure": engine.working_pressure_gauge_pa,
        "valve feathers": engine.valve_moves_gauge_pa,
        "valve lifts": engine.valve_lifts_gauge_pa,
        "allowed pressure": engine.allowed_pressure_gauge_pa or engine.valve_lifts_gauge_pa,
        "wood until": engine.wood_until_gauge_pa,
        "injector from": engine.injector_starts_gauge_pa,
        "gauge top": engine.dial_top_gauge_pa,
    }[name]


def level(bound: Bound, engine: Engine) -> float:
    """The limit as a number: Pa gauge, or a fraction of the glass or the tank."""
    if not bound.figure:
        return bound.value
    return bound.times * figure(engine, bound.figure) + bound.value


def measure(report: Report, engine: Engine) -> float | None:
    """The number in a report: Pa gauge, or a fraction. None for a state or an unknown unit.

    A tank called in litres or gallons needs the engine's tank; without it there is no fraction.
    """
    if isinstance(report.value, str):
        return None
    try:
        return _measured(report, engine)
    except ValueError:
        return None


def _measured(report: Report, engine: Engine) -> float | None:
    if report.what == "pressure":
        return scales.pressure_gauge_pa(report)
    if report.what == "water" and report.unit != "glass":
        return scales.length_m(report) / engine.glass.visible_m
    if report.what == "tank" and report.unit != "tank":
        return scales.volume_m3(report) / engine.tank_m3 if engine.tank_m3 else None
    return scales.number(report)


def pressure_unit_pa(unit: str | None) -> float:
    """One unit of a pressure [Pa]; one psi for a unit of another kind.

    >>> round(pressure_unit_pa("bar"))
    100000
    """
    try:
        return scales.pressure_gauge_pa(Report("pressure", 1.0, unit))
    except ValueError:
        return PSI_PA


def glass_litres(engine: Engine) -> float:
    """Litres from the bottom of the glass to its top."""
    points = engine.glass.points
    return (points[-1][1] - points[0][1]) / (points[-1][0] - points[0][0])


def judge(limits: Limits | None, value: float, engine: Engine) -> str | None:
    """None when the value lies within the limits (ends included), else what is said about it."""
    if limits is None:
        return None
    grain = 1e-6  # a reading called exactly at a mark counts as at the mark, whatever its unit
    if limits.at_least is not None:
        low = level(limits.at_least, engine)
        if value < low - grain * max(1.0, abs(low)):
            return limits.too_low
    if limits.at_most is not None:
        high = level(limits.at_most, engine)
        if value > high + grain * max(1.0, abs(high)):
            return limits.too_high
    return None


def options(engine: Engine) -> frozenset[str]:
    """The engine's options as its file gives them, with those that its figures imply.

    A pump with a delivery at tick-over is a geared pump unless the file says it is a hand pump.
    """
    names = set(engine.options)
    if engine.tank_m3:
        names.add("tank")
    if engine.pump_m3_per_s and "hand pump" not in names:
        names.add("geared pump")
    if engine.kind in ON_WHEELS:
        names.add("wheels")
    if engine.kind in GEARED:
        names.add("road gear")
    names |= {fitting for fitting in ("blower", "drain cocks") if f"no {fitting}" not in names}
    if names & {"geared pump", "hand pump"}:
        names.add("pump")
    if names & {"injector", "hand pump"}:
        names.add("standing feed")
    return frozenset(names)
