"""The small parts of what is said: numbers with units, reports and orders, a whole sentence.

Knows no situation. Every function is pure and its words would be understood if said back to us.
"""

from __future__ import annotations

import re

from assistant.grammar import fractions, numbers
from assistant.grammar.orders import NO, ORDER_FORMS, YES
from assistant.grammar.states import CALL_SUBJECTS, preferred_words
from assistant.messages import Correction, Meaning, Order, Report, Several
from assistant.wording.text_normalisation import spelled

PROMPT_WORDS = 12  # most words of a prompt: 5.5 s at 130 words a minute
_UNITS: dict[str, tuple[str, str]] = {  # one of it, more of it
    "psi": ("pound", "pounds"),
    "bar": ("bar", "bar"),
    "kPa": ("kilopascal", "kilopascals"),
    "kgf/cm2": ("kilo", "kilos"),
    "mm": ("millimetre", "millimetres"),
    "inch": ("inch", "inches"),
    "litre": ("litre", "litres"),
    "imperial_gallon": ("imperial gallon", "imperial gallons"),
    "US_gallon": ("American gallon", "American gallons"),
    "minute": ("minute", "minutes"),
}
# Where subject and state in a row are not what a person says.
SPECIAL_STATE_WORDS: dict[tuple[str, str], str] = {
    ("water", "out of sight"): "no water in sight",
    ("pressure", "on the pin"): "needle on the pin",
    ("pressure", "no blow-down"): "no blow-down today",
    ("emergency", "over"): "danger is over",
    ("cure", "blower_weak"): "blower trouble",
    ("cure", "pressure_hangs"): "pressure trouble",
    ("move", "stand_by"): "standing by",
    ("move", "raise_steam"): "raising steam again",
    ("move", "move_off"): "moving off again",
    ("move", "feed"): "time to feed",
    ("move", "put_away"): "putting away",
}
PART_UNITS = ("glass", "tank")  # units that are a part of the whole


def word_count(text: str) -> int:
    """Words as they are spoken; hyphens join.

    >>> word_count("Pressure one five, fifteen: is that right?")
    7
    """
    return len(re.findall(r"[A-Za-z][A-Za-z'-]*", text))


def sentence(text: str, end: str = ".") -> str:
    """The text with a capital and an end, its figures in words.

    >>> sentence("water half")
    'Water half.'
    """
    text = spelled(text.strip())
    if not text:
        return ""
    return text[0].upper() + text[1:] + ("" if text[-1] in ".?!" else end)


def quantity_words(value: float, unit: str) -> str:
    """A number and its unit in words.

    >>> quantity(120, "psi"), quantity(1, "litre"), quantity(0.5, "glass")
    ('a hundred and twenty pounds', 'one litre', 'half')
    """
    if unit in PART_UNITS:
        return level_words(value, unit)
    one, more = _UNITS.get(unit, (unit, unit))
    return f"{numbers.number_words(value)} {one if value == 1 else more}"


def level_words(value: float, unit: str) -> str:
    """A height in the glass, or what is in the tank, as a fraction in words."""
    if value < fractions.JUST / 2:
        return "empty" if unit == "tank" else "at the very bottom"
    said = fractions.exact(value) or fractions.fraction_words(value)
    return "nearly empty" if (unit, said) == ("tank", "just showing") else said


def unit_after(report: Report, dial: str) -> str:
    """The unit to be said after the number: none for the dial's own, and none for a fraction."""
    if report.unit is None or report.unit == dial or report.unit in PART_UNITS:
        return ""
    one, more = _UNITS.get(report.unit, (report.unit, report.unit))
    return f" {one if report.value == 1 else more}"


def state_words(report: Report) -> str:
    """A state in our own words; a checklist's own subject as it stands.

    >>> state_words(Report("feed", "off")), state_words(Report("water", "out of sight"))
    ('finished feeding', 'no water in sight')
    """
    said = SPECIAL_STATE_WORDS.get((report.what, str(report.value)))
    if said is not None:
        return said
    if report.what in CALL_SUBJECTS:
        return str(report.value).replace("_", " ")
    return preferred_words(report.what, str(report.value)) or f"{report.what} {report.value}"


def report_words(report: Report, dial: str = "psi") -> str:
    """A report said once, whole. dial: the unit that need not be named.

    >>> report_words(Report("pressure", 75, "psi")), report_words(Report("water", 2 / 3, "glass"))
    ('pressure seventy five', 'water two thirds')
    """
    if isinstance(report.value, str):
        return state_words(report)
    if report.unit in PART_UNITS:
        return f"{report.what} {level_words(report.value, report.unit or '')}"
    return f"{report.what} {numbers.number_words(report.value)}{unit_after(report, dial)}"


def meaning_words(meaning: Meaning, dial: str = "psi") -> str:
    """Anything that was meant, in words that would be understood, for a question or the screen.

    >>> meaning_words(Order("wait", 5.0, "minute"))
    'wait five minutes'
    """
    match meaning:
        case Report():
            return report_words(meaning, dial)
        case Several(reports):
            return ", ".join(report_words(report, dial) for report in reports)
        case Correction(report):
            return f"wrong, {report_words(report, dial)}"
        case Order():
            return _order_words(meaning)
    return YES[0] if meaning.word == "yes" else NO[0]


def _order_words(order: Order) -> str:
    if order.value is None or order.unit is None:
        return ORDER_NAMES.get(order.name) or ORDER_FORMS[order.name][0]
    return f"{ORDER_LEADS[order.name]} {quantity_words(order.value, order.unit)}"


# How an order is named in a question, where its first form is a question itself or too short.
ORDER_NAMES: dict[str, str] = {
    "skip": "skip this step",
    "if feed": "what if i put in",
    "wait": "wait",
}
ORDER_LEADS: dict[str, str] = {
    "how long": "how long to",
    "if feed": "what if i put in",
    "wait": "wait",
}
