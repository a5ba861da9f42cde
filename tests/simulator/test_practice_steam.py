"""The steam table of the practice boiler against the formulation it is made from."""

from __future__ import annotations

import pytest

from assistant.boiler.steam import saturated
from assistant.simulator.practice_steam import at_temperature, steam_columns


@pytest.mark.parametrize("kelvin", [285.0, 373.15, 420.7, 460.5])
def test_between_two_rows_it_is_right_to_a_thousandth(kelvin: float) -> None:
    table, exact = steam_columns(), saturated(kelvin)
    assert at_temperature(table.pressure_abs_pa, kelvin) == pytest.approx(
        exact.pressure_abs_pa, rel=1e-3
    )
    assert at_temperature(table.water_kg_per_m3, kelvin) == pytest.approx(1 / exact.vf, rel=1e-3)
    assert at_temperature(table.steam_kg_per_m3, kelvin) == pytest.approx(1 / exact.vg, rel=1e-3)
    assert at_temperature(table.steam_j_per_kg, kelvin) == pytest.approx(exact.hg, rel=1e-3)


def test_beyond_its_ends_it_stays_at_the_ends() -> None:
    column = steam_columns().pressure_abs_pa
    assert at_temperature(column, 200.0) == column[0]
    assert at_temperature(column, 900.0) == pytest.approx(column[-1], rel=1e-3)
