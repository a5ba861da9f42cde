"""Steam and water against check values of IAPWS R7-97, old tables and two libraries."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
import seuif97
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from assistant.boiler import steam
from assistant.boiler.scales import PSI_PA

BTU_PER_LB = 2326.0  # J/kg, exact (SP 811)
POUND_KG = 0.45359237  # exact (SP 811)
FT3_PER_LB = 0.028316846592 / POUND_KG  # m3/kg


@pytest.mark.parametrize(
    ("mpa", "kelvin"), [(0.1, 372.755919), (1.0, 453.035632), (10.0, 584.149488)]
)
def test_boiling_points_of_table_36(mpa: float, kelvin: float) -> None:
    assert steam.saturation_temperature_k(mpa * 1e6) == pytest.approx(
        kelvin, abs=5.01e-7
    )  # printed digit


@pytest.mark.parametrize(
    ("kelvin", "mpa"), [(300.0, 3.53658941e-3), (500.0, 2.63889776), (600.0, 12.3443146)]
)
def test_boiling_pressures_of_table_35(kelvin: float, mpa: float) -> None:
    assert steam.saturation_pressure_abs_pa(kelvin) == pytest.approx(mpa * 1e6, rel=2e-9)


# T [K], p [Pa]: v [m3/kg], h [kJ/kg], u [kJ/kg]
TABLE_5 = [
    (300.0, 3e6, 1.00215168e-3, 115.331273, 112.324818),
    (300.0, 80e6, 9.71180894e-4, 184.142828, 106.448356),
    (500.0, 3e6, 1.20241800e-3, 975.542239, 971.934985),
]
TABLE_15 = [
    (300.0, 3500.0, 39.4913866, 2549.91145, 2411.69160),
    (700.0, 3500.0, 92.3015898, 3335.68375, 3012.62819),
    (700.0, 30e6, 5.42946619e-3, 2631.49474, 2468.61076),
]


@pytest.mark.parametrize(
    ("phase", "row"),
    [(steam.liquid, row) for row in TABLE_5] + [(steam.vapour, row) for row in TABLE_15],
)
def test_properties_of_tables_5_and_15(
    phase: Callable[[float, float], steam.Properties], row: tuple[float, ...]
) -> None:
    kelvin, pressure, v, h, u = row
    got = phase(kelvin, pressure)
    assert (got.v, got.h, got.u) == pytest.approx((v, h * 1e3, u * 1e3), rel=5e-9)


# psia, T [F], hf, hfg [Btu/lb], vg [ft3/lb]: Marks & Davis 1909 in Babcock & Wilcox 1919, table 23
MARKS_AND_DAVIS = [
    (14.7, 212.0, 180.0, 970.4, 26.79),
    (20.0, 228.0, 196.1, 960.0, 20.08),
    (50.0, 281.0, 250.1, 923.5, 8.51),
    (100.0, 327.8, 298.3, 888.0, 4.429),
    (125.0, 344.4, 315.5, 874.7, 3.583),
    (150.0, 358.5, 330.2, 863.2, 3.012),
    (175.0, 370.8, 343.2, 852.7, 2.602),
    (200.0, 381.9, 354.9, 843.2, 2.290),
    (250.0, 401.1, 375.2, 826.3, 1.850),
]
# Keenan & Keyes, as abstracted in a maker's handbook
KEENAN_AND_KEYES = [
    (14.696, 212.00, 180.07, 970.3, 26.80),
    (20.0, 227.96, 196.16, 960.1, 20.09),
    (30.0, 250.33, 218.82, 945.3, 13.75),
]


@pytest.mark.parametrize("row", MARKS_AND_DAVIS + KEENAN_AND_KEYES)
def test_measured_tables_older_than_the_formulation(row: tuple[float, ...]) -> None:
    psia, fahrenheit, hf, hfg, vg = row
    got = steam.saturated(steam.saturation_temperature_k(psia * PSI_PA))
    assert got.temperature_k * 1.8 - 459.67 == pytest.approx(fahrenheit, abs=0.15)
    assert got.hf / BTU_PER_LB == pytest.approx(hf, abs=1.05)
    assert (got.hg - got.hf) / BTU_PER_LB == pytest.approx(hfg, abs=1.05)
    assert got.vg / FT3_PER_LB == pytest.approx(vg, rel=3.5e-3)


# psig: T [C], vf, vg [m3/kg], hf, hfg [kJ/kg]; computed with IF97 by separate code
GAUGE_ROWS = [
    (0, 99.97, 0.001043, 1.67330, 419.0, 2256.5),
    (60, 152.95, 0.001094, 0.36450, 645.0, 2104.4),
    (120, 176.70, 0.001123, 0.20855, 748.6, 2025.7),
    (250, 207.80, 0.001169, 0.10889, 887.7, 1908.6),
]


@pytest.mark.parametrize("row", GAUGE_ROWS)
def test_rows_by_gauge(row: tuple[float, ...]) -> None:
    psig, celsius, vf, vg, hf, hfg = row
    got = steam.saturated(steam.saturation_temperature_k(psig * PSI_PA + 101_325.0))
    assert got.temperature_k - 273.15 == pytest.approx(celsius, abs=0.006)
    assert (got.vf, got.vg) == (pytest.approx(vf, abs=6e-7), pytest.approx(vg, abs=6e-6))
    assert got.hf / 1e3 == pytest.approx(hf, abs=0.06)
    assert (got.hg - got.hf) / 1e3 == pytest.approx(hfg, abs=0.06)


@given(st.floats(0.0, 250.0))
def test_agrees_with_a_second_if97_over_the_dial(psig: float) -> None:
    pressure = psig * PSI_PA + 101_325.0
    got = steam.saturated(steam.saturation_temperature_k(pressure))
    mpa = pressure / 1e6
    assert got.temperature_k - 273.15 == pytest.approx(seuif97.px2t(mpa, 0), rel=1e-8)
    assert got.vf == pytest.approx(seuif97.px2v(mpa, 0), rel=1e-8)
    assert got.vg == pytest.approx(seuif97.px2v(mpa, 1), rel=1e-8)
    assert got.hf == pytest.approx(1e3 * seuif97.px2h(mpa, 0), rel=1e-8)
    assert got.hg == pytest.approx(1e3 * seuif97.px2h(mpa, 1), rel=1e-8)


@given(st.floats(0.0, 250.0))
def test_agrees_with_iapws_95_over_the_dial(psig: float) -> None:
    # another formulation: the two differ by up to 2.2e-4 (hf near 100 C)
    pressure = psig * PSI_PA + 101_325.0
    got = steam.saturated(steam.saturation_temperature_k(pressure))

    def oracle(what: str, dryness: float) -> float:
        return float(PropsSI(what, "P", pressure, "Q", dryness, "Water"))

    assert got.temperature_k == pytest.approx(oracle("T", 0), rel=3e-4)
    assert 1.0 / got.vf == pytest.approx(oracle("D", 0), rel=3e-4)
    assert 1.0 / got.vg == pytest.approx(oracle("D", 1), rel=3e-4)
    assert got.hf == pytest.approx(oracle("H", 0), rel=3e-4)
    assert got.hg == pytest.approx(oracle("H", 1), rel=3e-4)
    assert got.uf == pytest.approx(oracle("U", 0), rel=3e-4)


# Evaporation in the trade's measures: heat of a kilogram over that of one from and at 212 F.
AT_212F = steam.saturated(steam.saturation_temperature_k(101_325.0))
FROM_AND_AT_J_PER_KG = AT_212F.hg - AT_212F.hf


def evaporation_factor(pressure_abs_pa: float, feed_k: float, dryness: float = 1.0) -> float:
    row = steam.saturated(steam.saturation_temperature_k(pressure_abs_pa))
    made = row.hf + dryness * (row.hg - row.hf)
    return (made - steam.liquid(feed_k, pressure_abs_pa).h) / FROM_AND_AT_J_PER_KG


@pytest.mark.parametrize(
    ("fahrenheit", "pounds", "printed"),
    [(60, 160.3, 1.2034), (60, 100, 1.1961), (100, 70, 1.1494), (50, 150, 1.2128)],
)
def test_factors_of_evaporation(fahrenheit: float, pounds: float, printed: float) -> None:
    # Babcock & Wilcox 1919, table 19
    got = evaporation_factor(pounds * PSI_PA + 101_325.0, (fahrenheit + 459.67) / 1.8)
    assert got == pytest.approx(printed, rel=1.5e-3)


def test_boiler_horsepower() -> None:
    # B&W 1919: 30 lb/h, 100 F to 70 psig is 34.482, called 34.5; SP 811: 9809.50 W (from memory)
    made = 30.0 * evaporation_factor(70 * PSI_PA + 101_325.0, (100 + 459.67) / 1.8)
    assert made == pytest.approx(34.482, rel=1.5e-3)
    watts = 34.5 * POUND_KG / 3600.0 * FROM_AND_AT_J_PER_KG
    assert watts == pytest.approx(9809.5, rel=2e-4)


def test_equivalent_evaporation_of_joel() -> None:
    # Joel ex. 10.3: 5400 kg/h, 750 kPa, x 0.98, feed 41.5 C, 670 kg/h of fuel: 9.11 each
    each = 5400.0 / 670.0 * evaporation_factor(750e3, 314.65, 0.98)
    assert each == pytest.approx(9.11, abs=0.01)


def test_arrays_follow_the_exact_rows() -> None:
    kelvin = np.linspace(280.0, 520.0, 97)
    rows, arrays = [steam.saturated(float(k)) for k in kelvin], steam.saturated_arrays(kelvin)
    for name in ("vf", "vg", "uf", "ug"):
        exact = np.array([getattr(row, name) for row in rows])
        assert np.abs(getattr(arrays, name) / exact - 1.0).max() < 5e-5


def test_outside_the_range_is_refused() -> None:
    with pytest.raises(ValueError, match="outside"):
        steam.saturated(700.0)
