"""Temperatures from cold to hot cut into cells, and the heat each takes. Knows no fire."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from assistant.belief.bands import Array
from assistant.boiler.figures import Engine
from assistant.boiler.vessel import boiling_k, energy_curve_j, vessel_of

CELLS = 24
COLD_K = 285.15  # feed and a cold boiler: 12 C, common practice, no source


@dataclass(frozen=True, eq=False)
class TemperatureGrid:
    """The cells. A position counts cells from cold."""

    edges_k: Array
    """edges of the cells [K] (CELLS + 1)"""
    heat_j: Array
    """heat that each cell takes [J] (CELLS)"""

    @cached_property
    def bottom_k(self) -> float:
        """The lowest edge [K]; the edges are evenly spaced."""
        return float(self.edges_k[0])

    @cached_property
    def top_k(self) -> float:
        """The highest edge [K]."""
        return float(self.edges_k[-1])

    def position(self, temperature_k: float) -> float:
        """Where a temperature lies, in cells from cold; clamped to the grid."""
        part = (temperature_k - self.bottom_k) / (self.top_k - self.bottom_k)
        return min(max(part, 0.0), 1.0) * CELLS

    def temperature_k(self, position: float) -> float:
        """The temperature [K] at a position."""
        return float(np.interp(position, np.arange(len(self.edges_k)), self.edges_k))


def edges_k(engine: Engine) -> Array:
    """The edges of the cells [K], from cold to above the valve's lift."""
    lift, dial = engine.valve_lifts_gauge_pa, engine.dial_top_gauge_pa
    top = boiling_k(1.15 * max(lift, 0.7 * dial), engine.atmosphere_pa)
    edges: Array = np.linspace(COLD_K, top, CELLS + 1)
    return edges


def grid_of(engine: Engine, water_kg: float | Array) -> TemperatureGrid:
    """Cells with the heat they take. water_kg: one figure, or the water at each edge [kg].

    Where the water grew between two edges, that much feed was warmed as well.
    """
    edges = edges_k(engine)
    kg = np.broadcast_to(np.asarray(water_kg, dtype=float), edges.shape)
    mean_kg = (kg[1:] + kg[:-1]) / 2.0
    vessel = vessel_of(engine)
    low = energy_curve_j(vessel, mean_kg, edges[:-1])
    heat = energy_curve_j(vessel, mean_kg, edges[1:]) - low
    heat += np.maximum(np.diff(kg), 0.0) * 4200.0 * (edges[1:] - COLD_K)
    return TemperatureGrid(edges, np.asarray(heat, dtype=float))
