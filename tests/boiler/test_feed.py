"""The pump's delivery where the file gives none, and how long a tank lasts."""

from __future__ import annotations

from dataclasses import replace

import pytest
from boiler_engines import STEEL

from assistant.boiler import feed


def test_the_pump_delivers_what_the_file_says() -> None:
    assert feed.pump_m3_per_s(STEEL) == 1.6e-3 / 60


def test_a_pump_the_file_leaves_out_fills_the_glass_in_half_an_hour() -> None:
    # the glass of this engine spans 68 to 96 litres
    assert feed.pump_m3_per_s(replace(STEEL, pump_m3_per_s=None)) * 1800 == pytest.approx(0.028)


def test_the_tank_lasts() -> None:
    assert feed.tank_minutes(0.045, 1.5e-3 / 60.0) == pytest.approx(30.0)


def test_a_tank_nothing_is_taken_from_has_no_end() -> None:
    assert feed.tank_minutes(0.045, 0.0) is None
