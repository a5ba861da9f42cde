"""The glass part of an engine file: marks and litres at heights, checked for a possible order."""

from __future__ import annotations

from assistant.boiler.figures import Glass
from assistant.boiler.scales import LITRE_M3
from assistant.config import json_form
from assistant.config.field_readers import (
    number_of,
    quantity_of,
    want_keys,
    want_number,
    want_quantity,
    want_scalar,
    want_table,
)
from assistant.config.positioned_yaml import Problems, Table
from assistant.config.units import EXAMPLE

KEYS = ("visible", "lower_mark", "upper_mark", "cold_fill", "water")
LITRES = ("0 litre", "50000 litre")  # the least and the most at one height
Points = tuple[tuple[float, float], ...]


def glass_of(problems: Problems, glass: Table | None, volume_m3: float | None) -> Glass | None:
    """The glass; None, with problems added, when something is wrong with it."""
    if glass is None:
        return None
    want_keys(problems, glass, KEYS, (), "'glass'")
    visible = want_quantity(problems, glass, "visible", "length", "10 mm", "1500 mm")
    marks = {key: want_number(problems, glass, key, 0.0, 1.0) for key in KEYS[1:4]}
    _marks_in_order(problems, glass, marks)
    points = points_of(problems, want_table(problems, glass, "water"), volume_m3)
    lower, upper, fill = (marks[key] for key in KEYS[1:4])
    if visible is None or lower is None or upper is None or fill is None or points is None:
        return None
    return Glass(visible.si, lower, upper, fill, points)


def _marks_in_order(problems: Problems, glass: Table, marks: dict[str, float | None]) -> None:
    lower, upper, fill = (marks[key] for key in KEYS[1:4])
    if lower is not None and upper is not None and lower >= upper:
        problems.add(
            glass.entries["lower_mark"][1],
            f"marks upside down: 'lower_mark' {lower:g} is not below 'upper_mark' {upper:g}",
        )
        return
    if fill is not None and lower is not None and fill < lower:
        problems.add(glass.entries["cold_fill"][1], "'cold_fill' is below 'lower_mark'")
    if fill is not None and upper is not None and fill > upper:
        problems.add(glass.entries["cold_fill"][1], "'cold_fill' is above 'upper_mark'")


def points_of(problems: Problems, water: Table | None, volume_m3: float | None) -> Points | None:
    """(height [fraction], cold water [litre]), rising; None when something is wrong with them."""
    if water is None:
        return None
    problems.asked_names(water)
    problems_before = len(problems.problems)
    points: list[tuple[float, float]] = []
    for key, node in water.entries.values():
        problems.asked(water, key.text, json_form.quantity(EXAMPLE["volume"], *LITRES))
        height = number_of(problems, key, "a height in the glass", 0.0, 1.0)
        scalar = want_scalar(problems, node, "the water at this height")
        if scalar is None:
            continue
        litres = quantity_of(problems, scalar, "the water at this height", "volume", *LITRES)
        if litres is not None and volume_m3 is not None and litres.si > volume_m3:
            problems.add(
                scalar,
                f"more water than the boiler holds: {litres.si / LITRE_M3:g} litre"
                f" in {volume_m3 / LITRE_M3:g} litre",
            )
        elif litres is not None and height is not None:
            if points and height <= points[-1][0]:
                problems.add(key, f"the heights must rise: {height:g} after {points[-1][0]:g}")
            elif points and litres.si / LITRE_M3 <= points[-1][1]:
                problems.add(scalar, "the litres must rise with the height")
            points.append((height, litres.si / LITRE_M3))
    if len(water.entries) < 2:
        problems.add(water, "'water': two heights or more are wanted, each with its litres")
    return tuple(points) if len(problems.problems) == problems_before else None
