"""The grid of temperatures and the heat of its cells."""

from __future__ import annotations

import numpy as np
import pytest
from boiler_engines import COPPER, FULL, STEEL

from assistant.belief.temperature_grid import CELLS, COLD_K, edges_k, grid_of
from assistant.boiler.figures import Engine
from assistant.boiler.vessel import Contents, boiling_k, energy_j, vessel_of


@pytest.mark.parametrize("engine", [COPPER, STEEL, FULL], ids=["copper", "steel", "full size"])
def test_it_reaches_from_cold_to_above_the_lift_of_the_valve(engine: Engine) -> None:
    edges = edges_k(engine)
    assert edges[0] == COLD_K
    assert edges[-1] > boiling_k(engine.valve_lifts_gauge_pa, engine.atmosphere_pa)


def test_the_cells_add_up_to_the_heat_from_cold_to_hot() -> None:
    grid, vessel = grid_of(STEEL, 80.0), vessel_of(STEEL)
    cold, hot = (energy_j(vessel, Contents(80.0, float(k))) for k in grid.edges_k[[0, -1]])
    assert grid.heat_j.sum() == pytest.approx(hot - cold, rel=1e-3)


def test_water_fed_on_the_way_is_warmed_too() -> None:
    fed = np.full(CELLS + 1, 80.0)
    fed[12:] = 85.0
    more = grid_of(STEEL, fed).heat_j
    assert more[11] > grid_of(STEEL, 80.0).heat_j[11] + 5.0 * 4200.0 * 60.0
    assert more[:11] == pytest.approx(grid_of(STEEL, 80.0).heat_j[:11])


def test_positions_and_temperatures_are_each_others_inverse_and_clamped() -> None:
    grid = grid_of(STEEL, 80.0)
    for position in (0.0, 0.5, 7.25, CELLS):
        assert grid.position(grid.temperature_k(position)) == pytest.approx(position)
    assert grid.position(200.0) == 0.0
    assert grid.position(900.0) == CELLS
