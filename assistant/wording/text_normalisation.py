"""Figures and short units in a sentence, written out so that a voice says them right.

Knows no meaning: reasons come from belief and alarms with the numbers they used.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

from assistant.grammar import numbers

_FIGURE = re.compile(r"(?<![\w.])([+\-−]?)(\d+(?:\.\d+)?|\.\d+)(\s?(?:%|°C|kgf/cm2|[A-Za-z_]+\b))?")
_SIGNS: Mapping[str, str] = MappingProxyType({"": "", "+": "plus ", "-": "minus ", "−": "minus "})
# One and several of each; "bar" is the same in both and needs no entry.
UNIT_NAMES: Mapping[str, tuple[str, str]] = MappingProxyType(
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
    """A figure in words, to two decimal places."""
    value = round(float(figure), 2)
    return "about zero" if value == 0 and float(figure) != 0 else numbers.number_words(value)


def _spell(match: re.Match[str]) -> str:
    sign, figure, after = match[1], match[2], match[3] or ""
    number = f"{_SIGNS[sign]}{_number(figure)}"
    if after.strip() not in UNIT_NAMES:
        return number + after
    singular, plural = UNIT_NAMES[after.strip()]
    return f"{number} {singular if float(figure) == 1 else plural}"


def spelled(text: str) -> str:
    """The text with every figure, and any short unit after it, in words.

    >>> spelled("60 to 95 psi in 1 minute, 12.4 kW")
    'sixty to ninety five pounds in one minute, twelve point four kilowatts'
    """
    return _FIGURE.sub(_spell, text)
