"""The pressure of the air by altitude. Knows no weather and no boiler."""

from __future__ import annotations


def standard_atmosphere_pa(altitude_m: float) -> float:
    """Pressure of the standard atmosphere [Pa] at a height above the sea, -500 to 11 000 m.

    Source: ISO 2533 / ICAO standard atmosphere, troposphere. Raises ValueError outside.

    >>> round(standard_atmosphere_pa(0.0))
    101325
    """
    if not -500.0 <= altitude_m <= 11_000.0:
        raise ValueError(f"altitude {altitude_m} m is outside -500 to 11000 m")
    share: float = (1.0 - 2.25577e-5 * altitude_m) ** 5.25588
    return 101_325.0 * share
