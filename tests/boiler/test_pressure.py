"""Gauge and absolute pressure do not mix; altitude against the standard atmosphere's own table."""

from __future__ import annotations

import pytest

from assistant.boiler.pressure import Absolute, Gauge, atmosphere_at


@pytest.mark.parametrize(
    "mix",
    [
        lambda: Gauge(1.0) + Absolute(1.0),
        lambda: Gauge(1.0) - Absolute(1.0),
        lambda: Absolute(1.0) - Gauge(1.0),
        lambda: Gauge(1.0) < Absolute(2.0),
        lambda: Gauge(1.0) + 1.0,
    ],
)
def test_gauge_and_absolute_cannot_be_mixed(mix):
    with pytest.raises(TypeError):
        mix()


def test_there_and_back():
    air = Absolute(95_000.0)
    assert Gauge(500_000.0).absolute(air) == Absolute(595_000.0)
    assert Gauge(500_000.0).absolute(air).gauge(air) == Gauge(500_000.0)
    assert Gauge(3.0) - Gauge(1.0) == 2.0


@pytest.mark.parametrize(
    ("altitude_m", "pressure_pa"), [(0, 101_325), (500, 95_461), (1000, 89_875), (2000, 79_495)]
)
def test_standard_atmosphere(altitude_m, pressure_pa):
    # ICAO standard atmosphere table, from memory of its printed rows
    assert atmosphere_at(altitude_m).pa == pytest.approx(pressure_pa, rel=3e-4)


def test_no_altitude_of_that_kind():
    with pytest.raises(ValueError, match="altitude"):
        atmosphere_at(50_000.0)
