"""Saturated steam for the practice boiler: one row a kelvin, interpolated. Knows no boiler."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from assistant.boiler.steam import saturated

_FIRST_K, _LAST_K = 274, 499


class SteamColumns(NamedTuple):
    """Properties at saturation, one value for each kelvin from `_FIRST_K` on."""

    pressure_abs_pa: list[float]
    water_kg_per_m3: list[float]
    steam_kg_per_m3: list[float]
    water_j_per_kg: list[float]
    steam_j_per_kg: list[float]


@lru_cache(maxsize=1)
def steam_columns() -> SteamColumns:
    """The whole table."""
    rows = [saturated(float(k)) for k in range(_FIRST_K, _LAST_K + 1)]
    return SteamColumns(
        [r.pressure_abs_pa for r in rows],
        [1.0 / r.vf for r in rows],
        [1.0 / r.vg for r in rows],
        [r.hf for r in rows],
        [r.hg for r in rows],
    )


def at_temperature(column: list[float], kelvin: float) -> float:
    """A column at a temperature [K], held at the ends of the table.

    >>> round(at_temperature(steam_columns().pressure_abs_pa, 373.15) / 1e3)
    101
    """
    place = min(max(kelvin - _FIRST_K, 0.0), len(column) - 1.001)
    whole = int(place)
    return column[whole] + (place - whole) * (column[whole + 1] - column[whole])
