"""Steam and water against check values of IAPWS R7-97, old tables and two libraries."""

from __future__ import annotations

import numpy as np
import pytest
import seuif97
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from assistant.boiler import steam
from assistant.boiler.scales import PSI_PA

BTU_PER_LB = 2326.0  # J/kg, exact (SP 811)
FT3_PER_LB = 0.028316846592 / 0.45359237  # m3/kg


@pytest.mark.parametrize(
    ("mpa", "kelvin"), [(0.1, 372.755919), (1.0, 453.035632), (10.0, 584.149488)]
)
def test_boiling_points_of_table_36(mpa, kelvin):
    assert steam.saturation_temperature_k(mpa * 1e6) == pytest.approx(
        kelvin, abs=5.01e-7
    )  # printed digit


@pytest.mark.parametrize(
    ("kelvin", "mpa"), [(300.0, 3.53658941e-3), (500.0, 2.63889776), (600.0, 12.3443146)]
)
def test_boiling_pressures_of_table_35(kelvin, mpa):
    assert steam.saturation_pressure_abs_pa(kelvin) == pytest.approx(mpa * 1e6, rel=2e-9)


# columns: v [m3/kg], h [kJ/kg], u [kJ/kg], s [kJ/kgK], cp [kJ/kgK], w [m/s]
TABLE_5 = [
    (300.0, 3e6, 1.00215168e-3, 115.331273, 112.324818, 0.392294792, 4.17301218, 1507.73921),
    (300.0, 80e6, 9.71180894e-4, 184.142828, 106.448356, 0.368563852, 4.01008987, 1634.69054),
    (500.0, 3e6, 1.20241800e-3, 975.542239, 971.934985, 2.58041912, 4.65580682, 1240.71337),
]
TABLE_15 = [
    (300.0, 3500.0, 39.4913866, 2549.91145, 2411.69160, 8.52238967, 1.91300162, 427.920172),
    (700.0, 3500.0, 92.3015898, 3335.68375, 3012.62819, 10.1749996, 2.08141274, 644.289068),
    (700.0, 30e6, 5.42946619e-3, 2631.49474, 2468.61076, 5.17540298, 10.3505092, 480.386523),
]


@pytest.mark.parametrize(
    ("phase", "row"),
    [(steam.liquid, row) for row in TABLE_5] + [(steam.vapour, row) for row in TABLE_15],
)
def test_properties_of_tables_5_and_15(phase, row):
    kelvin, pressure, v, h, u, s, cp, w = row
    got = phase(kelvin, pressure)
    wanted = (v, h * 1e3, u * 1e3, s * 1e3, cp * 1e3, w)
    assert (got.v, got.h, got.u, got.s, got.cp, got.w) == pytest.approx(wanted, rel=5e-9)


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
def test_measured_tables_older_than_the_formulation(row):
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
def test_rows_by_gauge(row):
    psig, celsius, vf, vg, hf, hfg = row
    got = steam.saturated(steam.saturation_temperature_k(psig * PSI_PA + 101_325.0))
    assert got.temperature_k - 273.15 == pytest.approx(celsius, abs=0.006)
    assert (got.vf, got.vg) == (pytest.approx(vf, abs=6e-7), pytest.approx(vg, abs=6e-6))
    assert got.hf / 1e3 == pytest.approx(hf, abs=0.06)
    assert (got.hg - got.hf) / 1e3 == pytest.approx(hfg, abs=0.06)


@given(st.floats(0.0, 250.0))
def test_agrees_with_a_second_if97_over_the_dial(psig):
    pressure = psig * PSI_PA + 101_325.0
    got = steam.saturated(steam.saturation_temperature_k(pressure))
    mpa = pressure / 1e6
    assert got.temperature_k - 273.15 == pytest.approx(seuif97.px2t(mpa, 0), rel=1e-8)
    assert got.vf == pytest.approx(seuif97.px2v(mpa, 0), rel=1e-8)
    assert got.vg == pytest.approx(seuif97.px2v(mpa, 1), rel=1e-8)
    assert got.hf == pytest.approx(1e3 * seuif97.px2h(mpa, 0), rel=1e-8)
    assert got.hg == pytest.approx(1e3 * seuif97.px2h(mpa, 1), rel=1e-8)


@given(st.floats(0.0, 250.0))
def test_agrees_with_iapws_95_over_the_dial(psig):
    # another formulation: the two differ by up to 2.2e-4 (hf near 100 C)
    pressure = psig * PSI_PA + 101_325.0
    got = steam.saturated(steam.saturation_temperature_k(pressure))

    def oracle(what: str, dryness: float) -> float:
        return PropsSI(what, "P", pressure, "Q", dryness, "Water")

    assert got.temperature_k == pytest.approx(oracle("T", 0), rel=3e-4)
    assert 1.0 / got.vf == pytest.approx(oracle("D", 0), rel=3e-4)
    assert 1.0 / got.vg == pytest.approx(oracle("D", 1), rel=3e-4)
    assert got.hf == pytest.approx(oracle("H", 0), rel=3e-4)
    assert got.hg == pytest.approx(oracle("H", 1), rel=3e-4)
    assert got.uf == pytest.approx(oracle("U", 0), rel=3e-4)


def test_arrays_follow_the_exact_rows():
    kelvin = np.linspace(280.0, 520.0, 97)
    rows, arrays = [steam.saturated(float(k)) for k in kelvin], steam.saturated_arrays(kelvin)
    for name in ("vf", "vg", "uf", "ug"):
        exact = np.array([getattr(row, name) for row in rows])
        assert np.abs(getattr(arrays, name) / exact - 1.0).max() < 5e-5


def test_outside_the_range_is_refused():
    with pytest.raises(ValueError, match="outside"):
        steam.saturated(700.0)
