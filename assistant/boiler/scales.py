"""The spoken units in SI. A table; knows nothing of files or of unit libraries.

Factors: NIST SP 811, exact where the definition is exact.
"""

from __future__ import annotations

import math

from assistant.messages import Report

# of a normal distribution: from the middle to its 10 and 90 % points [standard deviations]
TENTH_SD = 1.2815515655446004

# gauge pressure: Pa for one of the unit
PRESSURE_PA: dict[str, float] = {
    "psi": 6894.757293168,
    "bar": 100_000.0,
    "kPa": 1000.0,
    "kgf/cm2": 98_066.5,
}

# volume: m3 for one of the unit
VOLUME_M3: dict[str, float] = {
    "litre": 0.001,
    "imperial_gallon": 0.00454609,
    "US_gallon": 0.003785411784,
}

# length: m for one of the unit
LENGTH_M: dict[str, float] = {"mm": 0.001, "inch": 0.0254}

PSI_PA = PRESSURE_PA["psi"]
LITRE_M3 = VOLUME_M3["litre"]


def pressure_gauge_pa(report: Report) -> float:
    """The gauge pressure of a pressure reading [Pa].

    Raises ValueError for another kind of unit or a value that is no finite number.

    >>> round(pressure_gauge_pa(Report("pressure", 5, "bar")))
    500000
    """
    return number(report) * _scale(report, PRESSURE_PA)


def volume_m3(report: Report) -> float:
    """The volume of a reading in litres or gallons [m3]. Raises ValueError as above."""
    return number(report) * _scale(report, VOLUME_M3)


def length_m(report: Report) -> float:
    """The height of a reading in millimetres or inches [m]. Raises ValueError as above."""
    return number(report) * _scale(report, LENGTH_M)


def number(report: Report) -> float:
    """The reading's number as a float. Raises ValueError for a word, NaN or infinity."""
    if isinstance(report.value, str) or not math.isfinite(report.value):
        raise ValueError(f"{report.what}: {report.value!r} is no finite number")
    return float(report.value)


def _scale(report: Report, table: dict[str, float]) -> float:
    if report.unit not in table:
        raise ValueError(f"{report.what}: {report.unit!r} is not one of {', '.join(table)}")
    return table[report.unit]
