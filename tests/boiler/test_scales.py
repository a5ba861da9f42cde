"""Units of the spoken readings against an independent library of units, and against NIST SP 811."""

from __future__ import annotations

import math
from typing import Any

import pint
import pytest

from assistant.boiler import scales
from assistant.boiler.steam import saturation_temperature_k
from assistant.messages import Report

UNITS: Any = pint.UnitRegistry()
PINT_NAMES = {
    "kgf/cm2": "kilogram_force / centimeter ** 2",
    "US_gallon": "US_liquid_gallon",
}


@pytest.mark.parametrize(
    ("table", "base"),
    [
        (scales.PRESSURE_PA, "pascal"),
        (scales.VOLUME_M3, "meter ** 3"),
        (scales.LENGTH_M, "meter"),
    ],
)
def test_every_unit_agrees_with_pint(table: dict[str, float], base: str) -> None:
    for name, factor in table.items():
        assert UNITS(PINT_NAMES.get(name, name)).to(base).magnitude == pytest.approx(
            factor, rel=1e-12
        )


def test_conversions_of_sp_811() -> None:
    # NIST SP 811: psi 6.894757 kPa; kgf/cm2 98.0665 kPa; UK gallon 4.54609 L; US 3.785412 L
    assert scales.PRESSURE_PA["psi"] == pytest.approx(6894.757, rel=1e-7)
    assert scales.PRESSURE_PA["kgf/cm2"] == 98_066.5
    assert scales.VOLUME_M3["imperial_gallon"] == 4.54609e-3
    assert scales.VOLUME_M3["US_gallon"] == pytest.approx(3.785412e-3, rel=1e-6)
    assert UNITS("Btu").to("joule").magnitude == pytest.approx(1055.056, rel=1e-6)


def test_250_pounds_is_406_fahrenheit() -> None:
    # mnemonic of the handbooks
    kelvin = saturation_temperature_k(250 * scales.PSI_PA + 101_325.0)
    assert kelvin * 9.0 / 5.0 - 459.67 == pytest.approx(406.0, abs=0.5)


def test_readings_in_every_unit() -> None:
    assert scales.pressure_gauge_pa(Report("pressure", 2, "bar")) == 200_000.0
    assert scales.volume_m3(Report("tank", 2, "imperial_gallon")) == pytest.approx(9.09218e-3)
    assert scales.length_m(Report("water", 2, "inch")) == pytest.approx(0.0508)


@pytest.mark.parametrize(
    "report",
    [
        Report("pressure", 2, "litre"),
        Report("pressure", 2, None),
        Report("pressure", math.nan, "psi"),
        Report("pressure", math.inf, "psi"),
        Report("pressure", "high", "psi"),
    ],
)
def test_what_is_no_pressure_is_refused(report: Report) -> None:
    with pytest.raises(ValueError, match="pressure"):
        scales.pressure_gauge_pa(report)
