"""Gauge and absolute pressure as two quantities that cannot be mixed. Knows no boiler."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Gauge:
    """A pressure above the atmosphere [Pa].

    >>> Gauge(500_000.0).absolute(Absolute(101_325.0))
    Absolute(pa=601325.0)
    """

    pa: float

    def absolute(self, atmosphere: Absolute) -> Absolute:
        """The same pressure above nothing, in air of this pressure."""
        return Absolute(self.pa + atmosphere.pa)

    def __sub__(self, other: Gauge) -> float:
        """The difference [Pa]; only between two gauge pressures."""
        return self.pa - other.pa if isinstance(other, Gauge) else NotImplemented


@dataclass(frozen=True, slots=True, order=True)
class Absolute:
    """A pressure above nothing [Pa]."""

    pa: float

    def gauge(self, atmosphere: Absolute) -> Gauge:
        """The same pressure as a gauge in air of this pressure shows it."""
        return Gauge(self.pa - atmosphere.pa)

    def __sub__(self, other: Absolute) -> float:
        """The difference [Pa]; only between two absolute pressures."""
        return self.pa - other.pa if isinstance(other, Absolute) else NotImplemented


def atmosphere_at(altitude_m: float) -> Absolute:
    """Pressure of the standard atmosphere at a height above the sea, -500 to 11 000 m.

    Source: ISO 2533 / ICAO standard atmosphere, troposphere. Raises ValueError outside.

    >>> round(atmosphere_at(0.0).pa)
    101325
    """
    if not -500.0 <= altitude_m <= 11_000.0:
        raise ValueError(f"altitude {altitude_m} m is outside -500 to 11000 m")
    return Absolute(101_325.0 * (1.0 - 2.25577e-5 * altitude_m) ** 5.25588)
