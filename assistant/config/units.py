"""Written quantities -> SI. A pressure is gauge unless it is marked `abs`.

The only module that knows the library of units. It is asked only for units that the table below
lacks, because loading it takes a third of a second.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Any

from assistant.boiler.figures import STANDARD_ATMOSPHERE_PA
from assistant.boiler.scales import LENGTH_M, PRESSURE_PA, VOLUME_M3
from assistant.config.suggest import closest, did_you_mean, in_quotes
from assistant.errors import InputWrongError

# Dimension -> unit -> SI scale. Exact by definition (NIST SP 811); checked in tests.
KNOWN: dict[str, dict[str, float]] = {
    "pressure": {
        **PRESSURE_PA, "Pa": 1.0, "hPa": 100.0, "mbar": 100.0, "MPa": 1e6,
        # markings of old dials, where pounds and kilograms are forces
        "lb/in2": PRESSURE_PA["psi"], "lbf/in2": PRESSURE_PA["psi"], "lbs/in2": PRESSURE_PA["psi"],
        "kg/cm2": PRESSURE_PA["kgf/cm2"], "kp/cm2": PRESSURE_PA["kgf/cm2"],
    },
    "volume": {**VOLUME_M3, "litres": 0.001, "liter": 0.001, "l": 0.001, "L": 0.001, "m3": 1.0},
    "length": {**LENGTH_M, "m": 1.0, "cm": 0.01, "in": 0.0254, "inches": 0.0254, "ft": 0.3048},
    "mass": {"kg": 1.0, "g": 0.001, "t": 1000.0, "lb": 0.45359237},
    "power": {"kW": 1000.0, "W": 1.0},
    "flow": {
        "litre/min": 0.001 / 60,
        "litre/hour": 0.001 / 3600,
        "litre/h": 0.001 / 3600,
        "imperial_gallon/min": VOLUME_M3["imperial_gallon"] / 60,
        "US_gallon/min": VOLUME_M3["US_gallon"] / 60,
    },
    "rise": {
        **{f"{unit}/min": pascal / 60 for unit, pascal in PRESSURE_PA.items()},
    },
    "angle": {"degree": math.pi / 180.0, "degrees": math.pi / 180.0, "deg": math.pi / 180.0},
    "time": {
        "s": 1.0, "min": 60.0, "minute": 60.0, "minutes": 60.0,
        "hour": 3600.0, "hours": 3600.0, "h": 3600.0, "day": 86400.0, "days": 86400.0,
    },
}  # fmt: skip
DAY_S = 86400.0
EXAMPLE = {
    "pressure": "120 psi", "volume": "110 litre", "length": "160 mm", "mass": "420 kg",
    "power": "28 kW", "flow": "1.6 litre/min", "time": "5 min", "rise": "8 psi/min",
    "angle": "2 degree",
}  # fmt: skip
_SI = {
    "pressure": "pascal", "volume": "meter**3", "length": "meter", "mass": "kilogram",
    "power": "watt", "flow": "meter**3/second", "time": "second",
    "rise": "pascal/second", "angle": "radian",
}  # fmt: skip
# Names joined by / or *, each with a small power: the library would evaluate 9**9**9.
_UNIT = re.compile(r"[A-Za-zµ°]\w{0,30}((\*\*|\^)[1-4])?([/*][A-Za-zµ°]\w{0,30}((\*\*|\^)[1-4])?)*")
_QUANTITY = re.compile(r"(?P<number>[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d{1,3})?)\s*(?P<unit>.*)")


@dataclass(frozen=True, slots=True)
class Quantity:
    """A quantity in SI, with its value and unit as written."""

    si: float
    """The value in the SI unit of its dimension; a pressure as written, gauge or absolute."""
    absolute: bool
    """A pressure above vacuum, not above the atmosphere."""
    value: float
    unit: str


def quantity(text: str, dimension: str) -> Quantity:
    """The quantity written in `text`; ValueError with the reason when there is none.

    >>> quantity("6 litre/min", "flow").si
    0.0001
    >>> quantity("8 bar abs", "pressure").absolute
    True
    >>> quantity("12 gallon", "volume")
    Traceback (most recent call last):
    ...
    ValueError: 'gallon' alone is unclear: imperial_gallon or US_gallon
    """
    number, unit = _split(text, dimension)
    unit, absolute = _without_abs(unit)
    if absolute and dimension != "pressure":
        raise ValueError(f"'abs' belongs to a pressure, not to a {dimension}")
    if not unit:
        raise ValueError(f"{in_quotes(text)} has no unit (for example: {EXAMPLE[dimension]})")
    si = number * scale(unit, dimension)
    if not math.isfinite(si):
        raise ValueError(f"{in_quotes(text)} is not a finite number")
    return Quantity(si, absolute, number, unit)


def gauge_pressure_pa(text: str, atmosphere_pa: float = STANDARD_ATMOSPHERE_PA) -> float:
    """A pressure of the command line [Pa gauge]; InputWrongError with the reason when it is none.

    >>> round(gauge_pressure_pa("5 bar"))
    500000
    """
    try:
        wanted = quantity(text, "pressure")
    except ValueError as wrong:
        raise InputWrongError(str(wrong)) from wrong
    return wanted.si - (atmosphere_pa if wanted.absolute else 0.0)


def _split(text: str, dimension: str) -> tuple[float, str]:
    """The number and the unit of a quantity as written; ValueError when there is no number."""
    match = _QUANTITY.fullmatch(text.strip())
    if match is None:
        raise ValueError(f"{in_quotes(text)} is no {dimension} (for example: {EXAMPLE[dimension]})")
    number, unit = float(match["number"]), match["unit"].strip()
    if unit[:1] in {",", "."}:
        raise ValueError(f"{in_quotes(text)}: write the decimals after a point")
    if not math.isfinite(number):
        raise ValueError(f"{in_quotes(text)} is not a finite number")
    return number, unit


def _without_abs(unit: str) -> tuple[str, bool]:
    words = unit.split()
    if words and words[-1].lower() in {"abs", "absolute", "gauge"}:
        return " ".join(words[:-1]), words[-1].lower() != "gauge"
    return unit, False


def scale(unit: str, dimension: str) -> float:
    """One of the unit in SI; ValueError with the reason when it is not of the dimension."""
    if re.search(r"(?<![A-Za-z_])gallons?(?![A-Za-z_])", unit):
        raise ValueError("'gallon' alone is unclear: imperial_gallon or US_gallon")
    known = KNOWN[dimension].get(unit)
    if known is not None:
        return known
    for other, units in KNOWN.items():
        if unit in units:
            raise ValueError(f"{in_quotes(unit)} is a {other}, a {dimension} is wanted here")
    return _pint_scale(unit, dimension)


@cache
def _pint_lookup() -> Callable[[str], tuple[float, dict[str, float]]]:
    """A function from a unit's name to its scale in SI base units and its dimensions."""
    import pint

    registry: Any = pint.UnitRegistry(cache_folder=None)
    registry.define("US_gallon = 3.785411784 * litre")
    registry.define("kgf = kilogram * standard_gravity")

    def ask(name: str) -> tuple[float, dict[str, float]]:
        try:
            parsed = registry.Quantity(1.0, registry.Unit(name))
            base = parsed.to_base_units()
        except (pint.errors.PintError, AttributeError, TypeError, ValueError) as wrong:
            raise KeyError(name) from wrong
        except (
            Exception
        ) as wrong:  # the library's parser also raises tokenizer and arithmetic errors
            raise KeyError(name) from wrong
        return float(base.magnitude), {k: float(v) for k, v in base.dimensionality.items()}

    return ask


def _pint_scale(unit: str, dimension: str) -> float:
    names = [name for units in KNOWN.values() for name in units]
    if len(unit) > 40 or not _UNIT.fullmatch(unit):
        raise ValueError(f"unknown unit {in_quotes(unit)}{did_you_mean(unit, names)}")
    ask = _pint_lookup()
    try:
        si, dimensions = ask(unit.replace("cm2", "cm**2").replace("in2", "in**2"))
    except KeyError:
        near = did_you_mean(unit, list(KNOWN[dimension]) if len(unit) < 3 else names)
        raise ValueError(f"unknown unit {in_quotes(unit)}{near}") from None
    if dimensions != ask(_SI[dimension])[1]:
        like = closest(unit, KNOWN[dimension])
        meant = f" (did you mean '{like}'?)" if like else ""
        raise ValueError(f"{in_quotes(unit)} is no unit of {dimension}{meant}")
    return si
