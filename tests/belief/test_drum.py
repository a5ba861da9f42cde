"""Swell: a published dynamic drum boiler, and what the water trend makes of its level.

Åström & Bell, "Drum-boiler dynamics", Automatica 36 (2000) 363-378: fourth-order model, parameters
and steady state as in an open implementation calibrated to the paper.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import pytest
from boiler_engines import belief_after

from assistant.belief import estimate, water_forecast
from assistant.belief.estimate import Belief
from assistant.boiler.steam import saturated, saturation_temperature_k
from assistant.messages import Report

V_DRUM, V_RISER, V_DOWN, A_DRUM, A_DOWN = 40.0, 37.0, 11.0, 20.0, 0.38128
M_TOTAL, M_RISER, M_DRUM, CP = 300e3, 160e3, 140e3, 550.0
FRICTION, BETA, T_D, V0_SD, G = 25.0, 0.3, 12.0, 7.66265, 9.80665


State = tuple[float, float, float, float]  # p [Pa], v_wt [m3], alpha, v_sd [m3]
Steady = tuple[State, float, float, float]  # state, fire [W], steam [kg/s], h_feed [J/kg]


@dataclass
class Sat:
    rho_w: float
    rho_s: float
    h_w: float
    h_s: float
    t: float


def sat(p: float) -> Sat:
    row = saturated(saturation_temperature_k(p))
    return Sat(1.0 / row.vf, 1.0 / row.vg, row.hf, row.hg, row.temperature_k)


def slopes(p: float) -> Sat:
    d = 2e3
    a, b = sat(p - d), sat(p + d)
    return Sat(*((getattr(b, n) - getattr(a, n)) / (2 * d) for n in Sat.__dataclass_fields__))


def void(p: float, alpha: float) -> float:
    """Average volume fraction of steam in the risers."""
    s = sat(p)
    r = (s.rho_w - s.rho_s) / s.rho_s
    return s.rho_w / (s.rho_w - s.rho_s) * (1.0 - math.log(1.0 + r * alpha) / (r * alpha))


def circulation(p: float, alpha: float) -> float:
    """Downcomer flow [kg/s] from the momentum balance."""
    s = sat(p)
    lift = s.rho_w * A_DOWN * (s.rho_w - s.rho_s) * G * void(p, alpha) * V_RISER
    return math.sqrt(2.0 * lift / FRICTION)


def level(p: float, v_wt: float, alpha: float, v_sd: float) -> float:
    return (v_wt - V_DOWN - (1.0 - void(p, alpha)) * V_RISER + v_sd) / A_DRUM


def derivatives(x: State, fire: float, feed: float, h_feed: float, steam: float) -> State:
    p, v_wt, alpha, v_sd = x
    s, d = sat(p), slopes(p)
    h_c, av = s.h_s - s.h_w, void(p, alpha)
    av_p = (void(p + 2e3, alpha) - void(p - 2e3, alpha)) / 4e3
    av_a = (void(p, alpha + 1e-5) - void(p, alpha - 1e-5)) / 2e-5
    v_t = V_DRUM + V_RISER + V_DOWN
    v_st, v_wd = v_t - v_wt, v_wt - V_DOWN - (1.0 - av) * V_RISER
    e11, e12 = s.rho_w - s.rho_s, v_wt * d.rho_w + v_st * d.rho_s
    e21 = s.rho_w * s.h_w - s.rho_s * s.h_s
    e22 = v_wt * (s.h_w * d.rho_w + s.rho_w * d.h_w) + v_st * (s.h_s * d.rho_s + s.rho_s * d.h_s)
    e22 += M_TOTAL * CP * d.t - v_t
    e32 = (s.rho_w * d.h_w - alpha * h_c * d.rho_w) * (1.0 - av) * V_RISER
    e32 += ((1.0 - alpha) * h_c * d.rho_s + s.rho_s * d.h_s) * av * V_RISER
    e32 += (s.rho_s + (s.rho_w - s.rho_s) * alpha) * h_c * V_RISER * av_p
    e32 += M_RISER * CP * d.t - V_RISER
    e33 = ((1.0 - alpha) * s.rho_s + alpha * s.rho_w) * h_c * V_RISER * av_a
    e42 = (
        v_sd * d.rho_s
        + (s.rho_s * v_sd * d.h_s + s.rho_w * v_wd * d.h_w - v_sd - v_wd + M_DRUM * CP * d.t) / h_c
    )
    e42 += (
        alpha
        * (1.0 + BETA)
        * V_RISER
        * (av * d.rho_s + (1.0 - av) * d.rho_w + (s.rho_s - s.rho_w) * av_p)
    )
    e43 = alpha * (1.0 + BETA) * (s.rho_s - s.rho_w) * V_RISER * av_a
    mass, energy = feed - steam, fire + feed * h_feed - steam * s.h_s
    dp = (energy - e21 / e11 * mass) / (e22 - e21 / e11 * e12)
    dv = (mass - e12 * dp) / e11
    da = (fire - alpha * h_c * circulation(p, alpha) - e32 * dp) / e33
    condensing = (h_feed - s.h_w) / h_c * feed
    dsd = (s.rho_s / T_D * (V0_SD - v_sd) + condensing - e42 * dp - e43 * da) / s.rho_s
    return (dp, dv, da, dsd)


@pytest.fixture(scope="module")
def steady() -> Steady:
    p, alpha, v_sd = 8.5e6, 0.051, 4.9
    s = sat(p)
    h_c = s.h_s - s.h_w
    fire = alpha * circulation(p, alpha) * h_c
    condensed = s.rho_s * (V0_SD - v_sd) / T_D
    steam = (fire - condensed * h_c) / h_c
    h_feed = s.h_w - condensed * h_c / steam
    return (p, 57.2, alpha, v_sd), fire, steam, h_feed


def test_steady_state(steady: Steady) -> None:
    x, fire, steam, h_feed = steady
    # the paper's steady state: q_dc 1194.5, q_s 50.42 kg/s, Q 85.91 MW, T_f 241.87 C, level 1.2053
    assert circulation(x[0], x[2]) == pytest.approx(1194.5, rel=1e-3)
    assert steam == pytest.approx(50.42, rel=1e-3)
    assert fire == pytest.approx(85.91e6, rel=1e-3)
    assert level(*x) == pytest.approx(1.2053, rel=1e-3)
    low, high = 400.0, 560.0
    for _ in range(50):
        middle = (low + high) / 2.0
        low, high = (middle, high) if saturated(middle).hf < h_feed else (low, middle)
    assert middle - 273.15 == pytest.approx(241.87, abs=0.5)


@pytest.fixture(scope="module")
def swell(steady: Steady) -> list[float]:
    """Change of level [m] each second after 10 kg/s more steam is taken."""
    x, fire, steam, h_feed = steady
    begun, dt, levels = level(*x), 0.5, []

    def slope(y: State) -> State:
        return derivatives(y, fire, steam, h_feed, steam + 10.0)

    def along(y: State, k: State, by: float) -> State:
        p, v_wt, alpha, v_sd = (a + by * b for a, b in zip(y, k, strict=True))
        return p, v_wt, alpha, v_sd

    for i in range(401):
        if i % 2 == 0:
            levels.append(level(*x) - begun)
        a = slope(x)
        b = slope(along(x, a, dt / 2))
        c = slope(along(x, b, dt / 2))
        d = slope(along(x, c, dt))
        for part, weight in ((a, 1), (b, 2), (c, 2), (d, 1)):
            x = along(x, part, weight * dt / 6)
    return levels


def test_more_steam_lifts_the_level_first(swell: list[float]) -> None:
    # computed from the published balances by separate code: +54 mm at 18 s, 0 at 92, -83 at 200
    peak = max(swell)
    assert peak == pytest.approx(0.054, abs=0.004)
    assert swell.index(peak) == pytest.approx(18, abs=4)
    crossing = next(t for t, rise in enumerate(swell) if t > 30 and rise < 0.0)
    assert crossing == pytest.approx(92, abs=10)
    assert swell[200] == pytest.approx(-0.083, abs=0.006)


def after_opening(swell: list[float], called_s: int) -> Belief:
    """The belief when this swell is called from a glass of 0.4 m so long after the regulator."""
    rows = [
        (0.0, Report("pressure", 110, "psi")),
        (0.0, Report("water", 0.5, "glass")),
        (600.0, Report("water", 0.5, "glass")),
        (600.0, Report("pressure", 112, "psi")),
        (660.0, Report("regulator", "open")),
        (660.0 + called_s, Report("water", round(0.5 + swell[called_s] / 0.4, 2), "glass")),
    ]
    return belief_after(rows)


@pytest.mark.parametrize("called_s", [10, 18, 30, 60])
def test_an_early_rise_is_not_called_gain(swell: list[float], called_s: int) -> None:
    trend = water_forecast.water_trend(after_opening(swell, called_s))
    assert trend.word == "unknown"
    assert "swell" in trend.why


def test_the_fall_that_follows_is_seen(swell: list[float]) -> None:
    belief = after_opening(swell, 20)
    for at_s, height in ((1100.0, 0.42), (1400.0, 0.35), (1700.0, 0.3)):
        belief = estimate.update(belief, Report("water", height, "glass"), at_s)
    trend = water_forecast.water_trend(belief)
    assert (trend.word, trend.cause) == ("falling", "use")
