"""Figures and short units in a sentence made elsewhere, as words that a voice says right.

Knows no meaning: reasons come from the boiler and the watch with the numbers they used.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

from assistant.grammar import numbers

_FIGURE = re.compile(r"(?<![\w.])([+\-−]?)(\d+(?:\.\d+)?|\.\d+)(\s?(?:%|°C|kgf/cm2|[A-Za-z_]+\b))?")
_SIGNS: Mapping[str, str] = MappingProxyType({"": "", "+": "plus ", "-": "minus ", "−": "minus "})
_UNITS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "psi": ("pound", "pounds"), "kPa": ("kilopascal", "kilopascals"),
        "kgf/cm2": ("kilo", "kilos"), "mm": ("millimetre", "millimetres"),
        "kW": ("kilowatt", "kilowatts"), "%": ("percent", "percent"),
        "kg": ("kilogram", "kilograms"), "l": ("litre", "litres"), "s": ("second", "seconds"),
        "min": ("minute", "minutes"), "h": ("hour", "hours"),
        "inch": ("inch", "inches"), "K": ("degree", "degrees"), "°C": ("degree", "degrees"),
        "litre": ("litre", "litres"), "minute": ("minute", "minutes"),
        "imperial_gallon": ("imperial gallon", "imperial gallons"),
        "US_gallon": ("American gallon", "American gallons"),
    }
)  # fmt: skip


def _number(figure: str) -> str:
    """A figure in words, to a hundredth."""
    value = round(float(figure), 2)
    return "about zero" if value == 0 and float(figure) != 0 else numbers.number_words(value)


def _spell(found: re.Match[str]) -> str:
    sign, figure, after = found[1], found[2], found[3] or ""
    unit = after.strip()
    said = f"{_SIGNS[sign]}{_number(figure)}"
    if unit not in _UNITS:
        return said + after
    one, more = _UNITS[unit]
    return f"{said} {one if float(figure) == 1 else more}"


def spelled(text: str) -> str:
    """The text with every figure, and a short unit after it, in words.

    >>> spelled("60 to 95 psi in 1 minute, 12.4 kW")
    'sixty to ninety five pounds in one minute, twelve point four kilowatts'
    """
    return _FIGURE.sub(_spell, text)
