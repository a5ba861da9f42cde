"""Evaporation in the trade's measures: factor of evaporation, from and at 212 F, horsepower."""

from __future__ import annotations

from assistant.boiler.steam import liquid, saturated, saturation_temperature_k

POUND_KG = 0.45359237  # exact, NIST SP 811
FROM_AND_AT_J_PER_KG = saturated(saturation_temperature_k(101_325.0)).hg - (
    saturated(saturation_temperature_k(101_325.0)).hf
)
# 34.5 lb of water an hour from and at 212 F (Babcock & Wilcox 1919)
BOILER_HORSEPOWER_W = 34.5 * POUND_KG / 3600.0 * FROM_AND_AT_J_PER_KG


def factor(pressure_abs_pa: float, feed_k: float, dryness: float = 1.0) -> float:
    """Heat of a kilogram of steam over that of one from and at 212 F. dryness: fraction."""
    row = saturated(saturation_temperature_k(pressure_abs_pa))
    made = row.hf + dryness * (row.hg - row.hf)
    return (made - liquid(feed_k, pressure_abs_pa).h) / FROM_AND_AT_J_PER_KG


def efficiency(
    steam_kg: float, fuel_kg: float, heat_value_j_per_kg: float, pressure_abs_pa: float,
    feed_k: float, dryness: float = 1.0,
) -> float:  # fmt: skip
    """The part of the fuel's heat that is in the steam."""
    heat = steam_kg * factor(pressure_abs_pa, feed_k, dryness) * FROM_AND_AT_J_PER_KG
    return heat / (fuel_kg * heat_value_j_per_kg)
