"""Every unit of our own table against the library of units, and quantities that must be refused."""

from __future__ import annotations

import subprocess
import sys

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.config.units import KNOWN, gauge_pressure_pa, quantity
from assistant.errors import InputWrongError

REGISTRY = pint.UnitRegistry()
LIBRARY = {
    "kgf/cm2": "kilogram_force / centimeter ** 2",
    "kg/cm2": "kilogram_force / centimeter ** 2",
    "kp/cm2": "kilogram_force / centimeter ** 2",
    "lb/in2": "psi",
    "lbf/in2": "force_pound / inch ** 2",
    "lbs/in2": "psi",
    "imperial_gallon/min": "imperial_gallon / minute",
    "US_gallon": "gallon", "US_gallon/min": "gallon / minute", "m3": "meter ** 3",
    "t": "metric_ton", "inches": "inch", "h": "hour", "litre/h": "litre / hour",
}  # fmt: skip
SI = {
    "pressure": "Pa", "volume": "m**3", "length": "m", "mass": "kg", "power": "W",
    "flow": "m**3/s", "time": "s",
    "rise": "Pa/s", "angle": "rad",
}  # fmt: skip
ALL = [(dimension, unit) for dimension, units in KNOWN.items() for unit in units]


@pytest.mark.parametrize(("dimension", "unit"), ALL, ids=lambda part: part)
def test_our_scales_are_the_librarys(dimension: str, unit: str) -> None:
    one, per, time = unit.partition("/min") if dimension == "rise" else (unit, "", "")
    named = LIBRARY.get(one, one) + per + time
    theirs = REGISTRY.Quantity(1.0, named).to(SI[dimension]).magnitude
    assert quantity(f"1 {unit}", dimension).si == pytest.approx(theirs, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "dimension", "si"),
    [
        ("120 psi", "pressure", 827_370.875),  # NIST SP 811: 1 psi = 6894.757 Pa
        ("1 kgf/cm2", "pressure", 98_066.5),  # NIST SP 811, exact
        ("14.5 psi gauge", "pressure", 99_973.98),
        ("1 imperial_gallon", "volume", 4.54609e-3),  # NIST SP 811, exact
        ("1 US_gallon", "volume", 3.785411784e-3),  # NIST SP 811
        ("6.5inch", "length", 0.1651),
        (".5 m", "length", 0.5),
        ("2.8e1 kW", "power", 28_000.0),
        ("1 ft", "length", 0.3048),
        ("1 inHg", "pressure", 3386.389),  # NIST SP 811; a unit that only the library knows
        ("100 lbf/in2", "pressure", 689_475.7),
        ("5 tonne", "mass", 5000.0),
        ("2 litre/second", "flow", 0.002),
        ("30 hp", "power", 22_371.0),
    ],
)
def test_quantities(text: str, dimension: str, si: float) -> None:
    assert quantity(text, dimension).si == pytest.approx(si, rel=2e-5)


@pytest.mark.parametrize(
    ("text", "dimension", "reason"),
    [
        ("", "pressure", "'' is no pressure (for example: 120 psi)"),
        ("psi", "pressure", "'psi' is no pressure"),
        ("120", "pressure", "'120' has no unit (for example: 120 psi)"),
        ("120 abs", "pressure", "'120 abs' has no unit"),
        ("120 psy", "pressure", "unknown unit 'psy' (did you mean 'psi'?)"),
        ("120 Bar", "pressure", "unknown unit 'Bar' (did you mean 'bar'?)"),
        ("120 litre", "pressure", "'litre' is a volume, a pressure is wanted here"),
        ("120 inHg", "length", "'inHg' is no unit of length"),
        ("120 degC", "pressure", "'degC' is no unit of pressure"),
        ("12 gallon", "volume", "'gallon' alone is unclear: imperial_gallon or US_gallon"),
        ("12 gallons", "volume", "'gallon' alone is unclear"),
        ("12 gallon/min", "flow", "'gallon' alone is unclear"),
        ("12 litre abs", "volume", "'abs' belongs to a pressure, not to a volume"),
        ("1,5 bar", "pressure", "'1,5 bar': write the decimals after a point"),
        ("1.234.5 bar", "pressure", "'1.234.5 bar': write the decimals after a point"),
        ("1e999 psi", "pressure", "'1e999 psi' is not a finite number"),
        ("1e305 MPa", "pressure", "'1e305 MPa' is not a finite number"),
        ("nan psi", "pressure", "'nan psi' is no pressure"),
        ("1_000 psi", "pressure", "unknown unit '_000 psi'"),
        ("1 " + "x" * 5000, "pressure", "unknown unit '" + "x" * 37 + "...'"),
        ("1 m**9**9**9**9", "length", "unknown unit 'm**9**9**9**9'"),
        ("1 __import__('os')", "length", "unknown unit '__import__('os')'"),
    ],
)
def test_what_must_be_refused(text: str, dimension: str, reason: str) -> None:
    with pytest.raises(ValueError) as caught:  # the words are asserted below
        quantity(text, dimension)
    assert str(caught.value).startswith(reason)


@given(st.text(max_size=30), st.sampled_from(sorted(KNOWN)))
def test_any_text_is_a_quantity_or_one_clear_line(text: str, dimension: str) -> None:
    for written in (text, f"1 {text}"):
        try:
            quantity(written, dimension)
        except ValueError as wrong:
            assert "\n" not in str(wrong)


def test_gauge_and_absolute_on_the_command_line() -> None:
    assert gauge_pressure_pa("2 bar") == pytest.approx(2e5)
    assert gauge_pressure_pa("2 bar abs", 95_000.0) == pytest.approx(105_000.0)
    with pytest.raises(InputWrongError, match="is no pressure"):
        gauge_pressure_pa("plenty")


def test_common_units_do_not_load_the_library() -> None:
    code = (
        "import sys; from assistant.config.engine_file import find_engine; find_engine('practice');"
        "print('pint' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
