"""Closed vessels against worked problems of textbooks and an independent simulation tool."""

from __future__ import annotations

import math

import pytest

from assistant.boiler import vessel
from assistant.boiler.scales import LITRE_M3, PSI_PA
from assistant.boiler.steam import saturated, saturation_pressure_abs_pa, saturation_temperature_k
from assistant.boiler.vessel import Contents, Vessel

ATMOSPHERE = 101_325.0
POUND_KG = 0.45359237  # exact (SP 811)


def psig(kelvin: float) -> float:
    return vessel.gauge_pa(kelvin, ATMOSPHERE) / PSI_PA


def heat_j(closed: Vessel, kg: float, from_k: float, to_k: float) -> float:
    """Heat that takes a closed vessel from one temperature to another [J]."""
    hot = vessel.energy_j(closed, Contents(kg, to_k))
    return hot - vessel.energy_j(closed, Contents(kg, from_k))


def heat_to_draw_j(boiler: Vessel, before_m3: float, after_m3: float, at_k: float) -> float:
    """Heat [J] that holds the temperature while steam is drawn and the water falls."""
    before = Contents(vessel.water_for(boiler, before_m3, at_k), at_k)
    after = Contents(vessel.water_for(boiler, after_m3, at_k), at_k)
    gone_kg = before.water_kg - after.water_kg
    change = vessel.energy_j(boiler, after) - vessel.energy_j(boiler, before)
    return change + gone_kg * saturated(at_k).hg


def drawn(boiler: Vessel, contents: Contents, steam_kg: float, heat: float = 0.0) -> Contents:
    """The contents after saturated steam [kg] was let out and heat [J] went in, in small steps."""

    def after(start: Contents, at_k: float, part: float) -> Contents:
        energy = vessel.energy_j(boiler, start) + part * (heat - steam_kg * saturated(at_k).hg)
        kg = start.water_kg - part * steam_kg
        return Contents(kg, vessel.temperature_k(boiler, kg, energy, start.temperature_k))

    steps = max(1, math.ceil(steam_kg / (0.005 * contents.water_kg)))
    for _ in range(steps):
        end_k = after(contents, contents.temperature_k, 1.0 / steps).temperature_k
        contents = after(contents, (contents.temperature_k + end_k) / 2.0, 1.0 / steps)
    return contents


def boiled_off(volume_m3: float, pressure_abs: float, kg: float, heat: float) -> Contents:
    """What is left when heat goes in at constant pressure and saturated vapour leaves."""
    pot, kelvin = Vessel(volume_m3, 0.0), saturation_temperature_k(pressure_abs)
    low, high = 0.1, kg
    for _ in range(60):
        left = (low + high) / 2.0
        needed = (
            vessel.energy_j(pot, Contents(left, kelvin))
            - vessel.energy_j(pot, Contents(kg, kelvin))
            + (kg - left) * saturated(kelvin).hg
        )
        low, high = (left, high) if needed > heat else (low, left)
    return Contents(left, kelvin)


def test_pressure_cooker_of_ahuja() -> None:
    # Ahuja, Chemical Engineering Thermodynamics, ex. 3.22: 5 L, 2 bar, 1 kg, 900 kJ
    left = boiled_off(5e-3, 2.0e5, 1.0, 9e5)
    parts = vessel.split(Vessel(5e-3, 0.0), left)
    assert left.water_kg == pytest.approx(0.5917, abs=2e-4)
    assert parts.steam_kg == pytest.approx(0.00494, abs=2e-5)
    assert parts.liquid_kg == pytest.approx(0.5868, abs=2e-4)


def test_pressure_cooker_of_cengel() -> None:
    # Çengel & Boles, pressure cooker: 6 L, 175 kPa, 1 kg, 500 W x 30 min; printed 116.04 C, 0.6 kg
    left = boiled_off(6e-3, 175e3, 1.0, 9e5)
    assert left.temperature_k - 273.15 == pytest.approx(116.04, abs=0.01)
    assert left.water_kg == pytest.approx(0.5938, abs=2e-4)


def test_drawing_steam_finds_the_same_cooker() -> None:
    # the same problem walked through in time: all heat in, vapour out, must end where it began
    kelvin = saturation_temperature_k(2.0e5)
    pot = Vessel(5e-3, 0.0)
    end = drawn(pot, Contents(1.0, kelvin), 1.0 - 0.59169, 9e5)
    assert end.temperature_k == pytest.approx(kelvin, abs=0.1)


def test_rigid_heating_of_moran_and_shapiro() -> None:
    # Moran & Shapiro ex. 3.1: 0.5 m3, 1 bar, x 0.5, heated to 1.5 bar: 111.4 C, 0.431 kg vapour
    tank = Vessel(0.5, 0.0)
    row = saturated(saturation_temperature_k(1e5))
    kg = 0.5 / (0.5 * row.vf + 0.5 * row.vg)
    hot = saturation_temperature_k(1.5e5)
    assert hot - 273.15 == pytest.approx(111.4, abs=0.06)
    assert vessel.split(tank, Contents(kg, hot)).steam_kg == pytest.approx(0.431, abs=5e-4)
    dry_bar, step = 1.5, 0.001
    while vessel.split(tank, Contents(kg, saturation_temperature_k(dry_bar * 1e5))).liquid_kg > 0.0:
        dry_bar += step
    assert dry_bar == pytest.approx(2.11, rel=0.01)  # the book interpolates its table


def test_steam_withdrawn_of_moran_and_shapiro() -> None:
    # Moran & Shapiro ex. 4.11: 0.85 m3, 260 C, x 0.7, vapour withdrawn until only vapour: 14 162 kJ
    kelvin = 533.15
    row = saturated(kelvin)
    kg = 0.85 / (0.3 * row.vf + 0.7 * row.vg)
    liquid_m3 = 0.3 * kg * row.vf
    heat = heat_to_draw_j(Vessel(0.85, 0.0), liquid_m3, 0.0, kelvin)
    assert kg == pytest.approx(28.4, abs=0.05)
    assert heat == pytest.approx(14_162e3, rel=1e-3)


def test_constant_pressure_draw_of_nag() -> None:
    # Nag ex. 9.11: 5 m3 water and 5 m3 steam at 1 MPa until 4 m3 water remain; 1788.2 MJ printed
    kelvin = saturation_temperature_k(1e6)
    boiler = Vessel(10.0, 0.0)
    before, after = (vessel.water_for(boiler, m3, kelvin) for m3 in (5.0, 4.0))
    assert before - after == pytest.approx(882.0, rel=2e-3)
    assert heat_to_draw_j(boiler, 5.0, 4.0, kelvin) == pytest.approx(1787e6, rel=2e-3)


def test_two_phase_state_of_nag() -> None:
    # Nag ex. 9.5: 0.04 m3 at 250 C with 9 kg liquid: 3.973 MPa, 9.573 kg
    row = saturated(523.15)
    kg = vessel.water_for(Vessel(0.04, 0.0), 9.0 * row.vf, 523.15)
    assert row.pressure_abs_pa == pytest.approx(3.973e6, rel=1e-3)
    assert kg == pytest.approx(9.573, rel=1e-3)


def test_closed_heating_of_balmer() -> None:
    # Balmer ex. 5.1: 1 m3, 2 kg, 20 to 95 C; 1647.6 kJ with IF97
    assert heat_j(Vessel(1.0, 0.0), 2.0, 293.15, 368.15) == pytest.approx(1647.6e3, rel=1e-4)


R1 = Vessel(14e-3, 12.0 * 385.0)  # reference miniature: 14 L, 10 kg water, 12 kg copper (cp 385)


@pytest.mark.parametrize(
    ("pounds", "megajoules"),
    [(0, 4.189), (60, 6.701), (100, 7.521), (120, 7.850), (150, 8.280)],
)
def test_heat_of_the_reference_miniature(pounds: float, megajoules: float) -> None:
    # computed from published properties by separate code
    hot = vessel.boiling_k(pounds * PSI_PA, ATMOSPHERE)
    assert heat_j(R1, 10.0, 283.15, hot) == pytest.approx(megajoules * 1e6, rel=2e-4)


@pytest.mark.parametrize(
    ("kg", "pounds"), [(0.10, 96.39), (0.25, 91.24), (0.50, 83.3), (1.00, 69.7)]
)
def test_cold_feed_takes_pressure(kg: float, pounds: float) -> None:
    # computed from published properties by separate code: 15 C feed at 100 psig, no firing
    hot = Contents(10.0, vessel.boiling_k(100 * PSI_PA, ATMOSPHERE))
    fed = vessel.exchanged(R1, hot, 0.0, kg, vessel.feed_enthalpy_j_per_kg(288.15))
    assert psig(fed.temperature_k) == pytest.approx(pounds, abs=0.05)


def test_storage_of_babcock_and_wilcox() -> None:
    # "Storage Capacity": 180 to 150 psig, half a cubic foot of water or eight of steam: 0.5 lb each
    high, low = (vessel.boiling_k(p * PSI_PA, ATMOSPHERE) for p in (180, 150))
    half_foot = 0.5 * 0.028316846592
    kg = half_foot / saturated(high).vf
    flashed = 0.0
    for step in range(200):
        at = high + (low - high) * (step + 0.5) / 200.0
        row = saturated(at)
        left = kg - flashed
        flashed += (
            left
            * (saturated(at + 0.05).hf - saturated(at - 0.05).hf)
            / 0.1
            * (high - low)
            / 200.0
            / (row.hg - row.hf)
        )
    eight_feet = 8.0 * 0.028316846592
    in_space = eight_feet / saturated(high).vg - eight_feet / saturated(low).vg
    assert flashed / POUND_KG == pytest.approx(0.46, abs=0.01)
    assert in_space / POUND_KG == pytest.approx(0.51, abs=0.01)
    # and drawn step by step from the same water, its small steam space standing for none
    tight = Vessel(half_foot, 0.0)
    end = drawn(tight, Contents(kg * 0.999, high), flashed)
    assert psig(end.temperature_k) == pytest.approx(150.0, abs=1.5)


@pytest.mark.parametrize(
    ("celsius", "shows"), [(80, -7.8), (90, -4.5), (100, 0.0), (140, 37.7), (170, 100.2)]
)
def test_a_vented_boiler_shows_a_vacuum_below_boiling(celsius: float, shows: float) -> None:
    # computed from published properties by separate code
    assert psig(celsius + 273.15) == pytest.approx(shows, abs=0.06)


def test_a_tight_boiler_left_to_cool_holds_a_vacuum() -> None:
    # computed from published properties: 2.34 kPa absolute at 20 C
    assert psig(293.15) == pytest.approx(-14.36, abs=0.01)


# t [s], p [bar], liquid [m3]: Modelica Standard Library 4.0.0, Fluid.Examples.DrumBoiler, official
# reference result of the Modelica Association (Dymola 2020x)
DRUM_BOILER = [
    (108.00, 1.05482, 67.06733), (216.00, 1.23326, 67.26821), (302.40, 1.49416, 67.52123),
    (399.60, 1.96783, 67.89126), (500.04, 2.74953, 68.33421), (599.40, 3.94504, 68.75743),
    (702.00, 5.77602, 69.02689), (799.20, 8.17678, 68.89133), (900.72, 11.3570, 67.99302),
    (999.00, 15.0689, 66.19040), (1101.60, 19.6309, 63.21781), (1199.88, 23.7843, 60.93552),
    (1350.00, 27.3193, 64.10467), (1500.12, 31.4368, 66.68784), (1800.36, 40.9353, 66.24212),
    (2400.84, 56.4846, 66.37155), (3000.24, 72.0251, 66.37112), (3600.72, 87.9030, 66.35870),
    (4200.12, 89.6608, 66.98278), (4800.60, 89.6480, 66.99941), (5400.00, 89.64782, 66.99999),
]  # fmt: skip


State = tuple[float, float, float]  # water [kg], energy [J], integral of the level's error


def test_start_up_of_the_reference_drum_boiler() -> None:
    """A vessel of 100 m3 with 300 t of metal, raised from 1 bar under a level controller."""
    drum = Vessel(100.0, 300_000.0 * 500.0)
    warm = saturation_temperature_k(1e5)
    kg = vessel.water_for(drum, 67.0, warm)
    state = (kg, vessel.energy_j(drum, Contents(kg, warm)), 0.0)
    guess_k = warm

    def liquid(now: State) -> tuple[float, float]:
        nonlocal guess_k
        guess_k = vessel.temperature_k(drum, now[0], now[1], guess_k)
        return guess_k, vessel.split(drum, Contents(now[0], guess_k)).liquid_m3

    def slope(t: float, now: State) -> State:
        kelvin, level = liquid(now)
        short = 67.0 - level
        feed = min(max(10.0 * (now[2] + short), 0.0), 500.0)
        pressure = saturation_pressure_abs_pa(kelvin)
        steam = min(t / 900.0, 1.0) * 180.0 / 9.0e6 * (pressure - 0.5e5)
        fire = 400e6 * min(t / 3600.0, 1.0)
        watts = fire + feed * 5.0e5 - steam * saturated(kelvin).hg
        return feed - steam, watts, short / 120.0

    def moved(now: State, by: State, dt: float) -> State:
        return now[0] + dt * by[0], now[1] + dt * by[1], now[2] + dt * by[2]

    t = 0.0
    for until, bar, cubic_metres in DRUM_BOILER:
        steps = max(1, round((until - t) / 3.0))
        dt = (until - t) / steps
        for _ in range(steps):
            a = slope(t, state)
            b = slope(t + dt / 2, moved(state, a, dt / 2))
            c = slope(t + dt / 2, moved(state, b, dt / 2))
            d = slope(t + dt, moved(state, c, dt))
            for part, by in ((a, 1.0), (b, 2.0), (c, 2.0), (d, 1.0)):
                state = moved(state, part, by * dt / 6)
            t += dt
        kelvin, level = liquid(state)
        assert saturation_pressure_abs_pa(kelvin) == pytest.approx(bar * 1e5, rel=1e-4), until
        assert level == pytest.approx(cubic_metres, abs=0.002), until


def test_full_and_dry_vessels_stay_sensible() -> None:
    small = Vessel(10.0 * LITRE_M3, 0.0)
    assert vessel.split(small, Contents(50.0, 300.0)).steam_kg == 0.0
    assert vessel.split(small, Contents(1e-6, 450.0)).liquid_kg == 0.0
