"""Readings in words: which units may be named, and what stays out because it is misheard."""

from __future__ import annotations

import pytest

from assistant.grammar import readings
from assistant.messages import Report


@pytest.mark.parametrize(
    ("dial", "units"),
    [
        ("psi", ("psi", "bar")),
        ("bar", ("psi", "bar")),
        ("kPa", ("psi", "bar", "kPa")),
        ("kgf/cm2", ("psi", "bar", "kgf/cm2")),
    ],
)
def test_the_dials_own_unit_may_be_named_and_the_two_common_ones(
    dial: str, units: tuple[str, ...]
) -> None:
    assert readings.units_heard(dial) == units


def test_an_unknown_unit_has_no_numbers() -> None:
    with pytest.raises(KeyError):
        readings.pressure_numbers("furlong")


@pytest.mark.parametrize("unit", readings.PRESSURE_UNITS)
def test_no_pressure_is_negative_and_zero_is_among_them(unit: str) -> None:
    values = {value for _, value in readings.pressure_numbers(unit)}
    assert min(values) == 0.0
    assert len(values) == (301 if unit == "psi" else 201)


def test_psi_is_not_said_after_the_word_pressure() -> None:
    """ "pressure twenty five" is misheard as "pressure twenty psi"."""
    forms = dict(readings.pressures_with_unit("psi"))
    assert forms[("twenty", "psi")] == Report("pressure", 20.0, "psi")
    assert ("pressure", "twenty", "psi") not in forms
    assert ("pressure", "twenty", "pounds") in forms


def test_water_that_is_nothing_needs_a_question() -> None:
    """ "valve is lifting" is misheard as "water is nothing"."""
    assert dict(readings.bare_waters())[("nothing",)] == readings.NO_WATER_SEEN
    named = dict(readings.waters_named())
    assert ("water", "is", "nothing") not in named
    assert named[("no", "water", "in", "sight")] == readings.NO_WATER_SEEN


def test_only_a_measure_is_of_a_glass() -> None:
    named = dict(readings.waters_named())
    assert ("two", "thirds", "of", "a", "glass") in named
    assert ("full", "of", "a", "glass") not in named


def test_litres_are_named_and_gallons_say_whose() -> None:
    bare = dict(readings.bare_tanks())
    assert ("twenty",) not in bare
    tanks = dict(readings.tanks_named())
    assert tanks[("one", "litre")] == Report("tank", 1.0, "litre")
    assert tanks[("tank", "ten", "american", "gallons")] == Report("tank", 10.0, "US_gallon")
    assert ("tank", "ten", "gallons") not in tanks
