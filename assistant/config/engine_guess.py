"""Figures that a person at an engine cannot know, guessed from those that he can.

The proportions are those of small and full-size fire-tube boilers: judgement, no source. What is
guessed here is marked so in the file, and the belief is the wider for it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from assistant.boiler.scales import LITRE_M3
from assistant.config import units
from assistant.config.engine_questions import Answers

GLASS_OF_BARREL = 0.36  # the visible glass, of the barrel's diameter
LONG = 2.3  # a barrel's length, of its diameter
# The whole water and steam space, of the barrel's: tubes take away, firebox and legs add. A small
# copper boiler is mostly firebox.
SPACE_OF_BARREL = {"steel": 1.0, "copper": 1.4}
KG_PER_LITRE = {"steel": 3.6, "copper": 1.9}  # metal that warms, for each litre of that space
AT_BOTTOM, AT_TOP = 0.62, 0.86  # water, of the space, at the two ends of the glass
WOOD_UNTIL = 0.3  # of the wanted pressure


@dataclass(frozen=True, slots=True)
class Boiler:
    """Her boiler as far as it was told, and the rest of it guessed."""

    volume_litre: float
    water_litre: tuple[float, float]
    """at the bottom and at the top of the glass"""
    metal_kg: float
    guessed: tuple[str, ...]
    """which of volume, metal and water"""


def boiler_of(answers: Answers) -> Boiler:
    """Volume, water and metal: as told, else from the barrel, else from the length of the glass."""
    guessed: list[str] = []
    metal = answers["metal"]
    space = _litres(answers.get("volume", ""))
    told = tuple(_litres(part) for part in answers.get("litres", "").split(", ") if part)
    if space is None:
        guessed.append("volume")
        at_top = told[1] if told else None
        space = at_top / AT_TOP if at_top else _barrel_litres(answers) * SPACE_OF_BARREL[metal]
    low, high = (told[0] or 0.0, told[1] or 0.0) if told else (AT_BOTTOM * space, AT_TOP * space)
    if not told:
        guessed.append("water")
    mass = answers.get("mass", "")
    kg = units.quantity(mass, "mass").si if mass else KG_PER_LITRE[metal] * space
    if not mass:
        guessed.append("metal")
    return Boiler(space, (low, high), kg, tuple(guessed))


def cold_fill_of(answers: Answers) -> float:
    """Where she is filled to, cold [of the glass]: as told, else below the middle of the marks."""
    if answers.get("cold_fill"):
        return float(answers["cold_fill"])
    lower, upper = float(answers["lower_mark"]), float(answers["upper_mark"])
    return round(lower + 0.4 * (upper - lower), 2)


def _litres(text: str) -> float | None:
    return units.quantity(text, "volume").si / LITRE_M3 if text else None


def _barrel_litres(answers: Answers) -> float:
    """The barrel's own space: as told, else as long a barrel as the glass lets expect."""
    if answers.get("barrel"):
        diameter_m, length_m = (
            units.quantity(part, "length").si for part in answers["barrel"].split(" x ")
        )
    else:
        diameter_m = units.quantity(answers["visible"], "length").si / GLASS_OF_BARREL
        length_m = LONG * diameter_m
    return math.pi / 4.0 * diameter_m**2 * length_m / LITRE_M3
