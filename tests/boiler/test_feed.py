"""Pumps against worked examples."""

from __future__ import annotations

import pytest

from assistant.boiler import feed


def test_ram_pump_of_sarkar():
    # Sarkar, Fluid Mechanics and Hydraulic Machines, ex. 9.4: 0.15 x 0.30 m, 50 rpm, 0.0042 m3/s
    swept = feed.ram_delivery_m3_per_s(0.15, 0.30, 50.0, slip=0.0)
    assert swept == pytest.approx(4.41786e-3, rel=1e-5)
    assert feed.slip(swept, 0.0042) == pytest.approx(0.0493, abs=5e-5)


def test_ram_pump_of_an_open_example():
    # 0.25 x 0.50 m, 30 rpm, 0.012 m3/s delivered: 0.01227 m3/s, slip 2.2 %
    swept = feed.ram_delivery_m3_per_s(0.25, 0.50, 30.0, slip=0.0)
    assert swept == pytest.approx(0.01227, abs=5e-6)
    assert feed.slip(swept, 0.012) == pytest.approx(0.022, abs=5e-4)


def test_small_pump():
    # half inch by three quarters: 2.407 mL a stroke; 200 a minute at 0.90 is 0.433 kg/min
    got = feed.ram_delivery_m3_per_s(12.7e-3, 19e-3, 200.0, slip=0.10)
    assert got * 60e3 == pytest.approx(0.433, abs=1e-3)


def test_the_bypass_sends_it_back():
    assert feed.into_boiler_m3_per_s(1e-4, 0.0) == 1e-4
    assert feed.into_boiler_m3_per_s(1e-4, 1.0) == 0.0
    assert feed.into_boiler_m3_per_s(1e-4, 7.0) == 0.0


def test_the_tank_lasts():
    assert feed.tank_minutes(0.045, 1.5e-3 / 60.0) == pytest.approx(30.0)
    assert feed.tank_minutes(0.045, 0.0) is None
