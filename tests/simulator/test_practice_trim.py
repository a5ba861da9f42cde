"""How a practice boiler differs from its file: always alike for one engine, not at all at 0."""

from __future__ import annotations

from dataclasses import astuple, replace

import pytest

from assistant.config.engine_file import find_engine
from assistant.simulator.practice_trim import draw_trim, full_fire_w, heat_to_working_pressure_j

ENGINE = find_engine("practice").engine


def test_an_engine_keeps_its_trim_and_engines_differ() -> None:
    assert draw_trim(3, 1.0) == draw_trim(3, 1.0)
    assert draw_trim(3, 1.0) != draw_trim(4, 1.0)


def test_without_spread_it_is_as_in_the_file() -> None:
    trim = draw_trim(3, 0.0)
    assert set(astuple(replace(trim, glass_zero=1.0, pump=1.0))) == {1.0}
    assert (trim.glass_zero, trim.pump) == (0.0, 0.85)  # a pump that slips a little


def test_the_fire_of_the_file_goes_before_the_usual_one() -> None:
    assert full_fire_w(replace(ENGINE, fire_rate_w=12_345.0)) == 12_345.0
    sizes = [full_fire_w(replace(ENGINE, fire_rate_w=None, volume_m3=v)) for v in (0.01, 0.11, 0.9)]
    assert sizes == sorted(sizes)
    assert sizes[1] == pytest.approx(28e3)


def test_a_bigger_boiler_takes_more_heat() -> None:
    bigger = replace(ENGINE, volume_m3=2 * ENGINE.volume_m3)
    assert heat_to_working_pressure_j(bigger) > heat_to_working_pressure_j(ENGINE)
