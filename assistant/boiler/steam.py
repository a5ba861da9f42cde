"""Water and steam by IAPWS R7-97(2012), regions 1, 2 and 4. Knows no boiler.

Arguments are floats or numpy arrays; pressures here are absolute. "Eq." and "Table" are of that
release.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from assistant.boiler.if97_tables import (
    REGION_1,
    REGION_2_IDEAL,
    REGION_2_RESIDUAL,
    REGION_4,
)

Number = TypeVar("Number", float, NDArray[np.float64])

GAS_CONSTANT_J_PER_KG_K = 461.526  # Eq. 1
EVAPORATION_J_PER_KG = 2.05e6  # near 100 psi, rounded: for sums with nominal figures
COLDEST_K, HOTTEST_K = 273.15, 623.15  # range of the saturation line shared with regions 1 and 2

_I1, _J1, _N1 = (np.array(column, dtype=float) for column in zip(*REGION_1, strict=True))
_J0, _N0 = (np.array(column, dtype=float) for column in zip(*REGION_2_IDEAL, strict=True))
_I2, _J2, _N2 = (np.array(column, dtype=float) for column in zip(*REGION_2_RESIDUAL, strict=True))


@dataclass(frozen=True, slots=True)
class Properties:
    """One phase: specific volume v [m3/kg], enthalpy h and internal energy u [J/kg]."""

    v: float
    h: float
    u: float


def saturation_temperature_k(pressure_abs_pa: Number) -> Number:
    """Temperature of boiling [K] at an absolute pressure [Pa], 611.213 Pa to 22.064 MPa. Eq. 31.

    >>> round(saturation_temperature_k(1.0e6), 6)  # Table 36
    453.035632
    """
    n = (0.0, *REGION_4)
    beta = (pressure_abs_pa / 1e6) ** 0.25
    e = beta**2 + n[3] * beta + n[6]
    f = n[1] * beta**2 + n[4] * beta + n[7]
    g = n[2] * beta**2 + n[5] * beta + n[8]
    d = 2.0 * g / (-f - (f**2 - 4.0 * e * g) ** 0.5)
    boiling: Number = (n[10] + d - ((n[10] + d) ** 2 - 4.0 * (n[9] + n[10] * d)) ** 0.5) / 2.0
    return boiling


def saturation_pressure_abs_pa(temperature_k: Number) -> Number:
    """Absolute pressure of boiling [Pa] at a temperature [K], 273.15 to 647.096 K. Eq. 30.

    >>> round(saturation_pressure_abs_pa(500.0) / 1e6, 8)  # Table 35
    2.63889776
    """
    n = (0.0, *REGION_4)
    theta = temperature_k + n[9] / (temperature_k - n[10])
    a = theta**2 + n[1] * theta + n[2]
    b = n[3] * theta**2 + n[4] * theta + n[5]
    c = n[6] * theta**2 + n[7] * theta + n[8]
    pressure: Number = (2.0 * c / (-b + (b**2 - 4.0 * a * c) ** 0.5)) ** 4 * 1e6
    return pressure


def liquid(temperature_k: float, pressure_abs_pa: float) -> Properties:
    """Properties of liquid water, region 1: 273.15 to 623.15 K, up to 100 MPa. Eq. 7, Table 3.

    >>> round(liquid(300.0, 3e6).h / 1e3, 6)  # Table 5
    115.331273
    """
    pi, tau = pressure_abs_pa / 16.53e6, 1386.0 / temperature_k
    x, y = 7.1 - pi, tau - 1.222
    terms = _N1 * x**_I1 * y**_J1
    by_pi = -(terms * _I1).sum() / x
    by_tau = (terms * _J1).sum() / y
    rt = GAS_CONSTANT_J_PER_KG_K * temperature_k
    v = pi * by_pi * rt / pressure_abs_pa
    h = tau * by_tau * rt
    return Properties(v=float(v), h=float(h), u=float(h - pressure_abs_pa * v))


def vapour(temperature_k: float, pressure_abs_pa: float) -> Properties:
    """Properties of steam, region 2: up to 1073.15 K below saturation. Eq. 15-17, Table 12.

    >>> round(vapour(300.0, 3500.0).h / 1e3, 5)  # Table 15
    2549.91145
    """
    pi, tau = pressure_abs_pa / 1e6, 540.0 / temperature_k
    y = tau - 0.5
    ideal, residual = _N0 * tau**_J0, _N2 * pi**_I2 * y**_J2
    by_pi_residual = (residual * _I2).sum() / pi
    by_tau = (ideal * _J0).sum() / tau + (residual * _J2).sum() / y
    rt = GAS_CONSTANT_J_PER_KG_K * temperature_k
    v = pi * (1.0 / pi + by_pi_residual) * rt / pressure_abs_pa
    h = tau * by_tau * rt
    return Properties(v=float(v), h=float(h), u=float(h - pressure_abs_pa * v))


@dataclass(frozen=True, slots=True)
class Saturated:
    """Boiling water (f) and the steam over it (g): v [m3/kg], h and u [J/kg]; pressure absolute."""

    temperature_k: float
    pressure_abs_pa: float
    vf: float
    vg: float
    hf: float
    hg: float
    uf: float
    ug: float


@lru_cache(maxsize=4096)
def saturated(temperature_k: float) -> Saturated:
    """Both phases on the saturation line at a temperature [K], 273.15 to 623.15 K.

    Raises ValueError outside.
    """
    if not COLDEST_K <= temperature_k <= HOTTEST_K:
        raise ValueError(f"{temperature_k} K is outside {COLDEST_K} to {HOTTEST_K} K")
    pressure = saturation_pressure_abs_pa(temperature_k)
    water, steam = liquid(temperature_k, pressure), vapour(temperature_k, pressure)
    return Saturated(temperature_k, pressure, water.v, steam.v, water.h, steam.h, water.u, steam.u)


# --- the same, tabulated, for arrays -------------------------------------------------------------

_STEP_K = 0.25
_TABLE_TOP_K = 533.0  # 47 bar: far above any small boiler


@dataclass(frozen=True, slots=True)
class SaturatedArrays:
    """As `Saturated`, for many temperatures at once."""

    vf: NDArray[np.float64]
    vg: NDArray[np.float64]
    uf: NDArray[np.float64]
    ug: NDArray[np.float64]


@lru_cache(maxsize=1)
def _table() -> tuple[NDArray[np.float64], SaturatedArrays]:
    temperatures = np.arange(COLDEST_K, _TABLE_TOP_K, _STEP_K)
    p = saturation_pressure_abs_pa(temperatures)
    rt = GAS_CONSTANT_J_PER_KG_K * temperatures
    pi1, tau1 = p / 16.53e6, 1386.0 / temperatures
    x, y = (7.1 - pi1)[:, None], (tau1 - 1.222)[:, None]
    terms = _N1 * x**_I1 * y**_J1
    vf = -(terms * _I1).sum(1) / x[:, 0] * pi1 * rt / p
    hf = tau1 * (terms * _J1).sum(1) / y[:, 0] * rt
    pi2, tau2 = p / 1e6, 540.0 / temperatures
    z = (tau2 - 0.5)[:, None]
    residual = _N2 * pi2[:, None] ** _I2 * z**_J2
    vg = (1.0 + (residual * _I2).sum(1)) * rt / p
    by_tau = (_N0 * tau2[:, None] ** _J0 * _J0).sum(1) / tau2 + (residual * _J2).sum(1) / z[:, 0]
    hg = tau2 * by_tau * rt
    return temperatures, SaturatedArrays(vf, vg, hf - p * vf, hg - p * vg)


def saturated_arrays(temperature_k: NDArray[np.float64]) -> SaturatedArrays:
    """Both phases for an array of temperatures [K], 273.15 to 530 K, clamped to these ends.

    Linear between rows a quarter of a kelvin apart: within 5e-5 relative of `saturated`.
    """
    rows, table = _table()
    return SaturatedArrays(
        *(
            np.interp(temperature_k, rows, column)
            for column in (table.vf, table.vg, table.uf, table.ug)
        )
    )
