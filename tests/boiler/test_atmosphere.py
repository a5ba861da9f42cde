"""Altitude against the standard atmosphere's own table."""

from __future__ import annotations

import pytest

from assistant.boiler.atmosphere import standard_atmosphere_pa


@pytest.mark.parametrize(
    ("altitude_m", "pressure_pa"), [(0, 101_325), (500, 95_461), (1000, 89_875), (2000, 79_495)]
)
def test_standard_atmosphere(altitude_m: float, pressure_pa: float) -> None:
    # ICAO standard atmosphere table, from memory of its printed rows
    assert standard_atmosphere_pa(altitude_m) == pytest.approx(pressure_pa, rel=3e-4)


@pytest.mark.parametrize("altitude_m", [-501.0, 11_001.0, 50_000.0])
def test_an_altitude_outside_the_troposphere_is_refused(altitude_m: float) -> None:
    with pytest.raises(ValueError, match="altitude"):
        standard_atmosphere_pa(altitude_m)
