"""The parts of what is said: numbers with units, reports and orders, a whole sentence.

Knows no situation. Every function is pure, and the grammar accepts the words that it gives.
"""

from __future__ import annotations

import re

from assistant.grammar import counted, fractions, numbers
from assistant.grammar.orders import NO, ORDER_FORMS, YES
from assistant.grammar.states import CALL_SUBJECTS, preferred_words
from assistant.messages import (
    BY,
    IN_A_NOTE,
    NOT_NAMED,
    ON_WATCH,
    Correction,
    Meaning,
    Order,
    Report,
    Several,
)
from assistant.wording.text_normalisation import UNIT_NAMES, spelled

PROMPT_WORDS = 12  # most words of a prompt: 5.5 s at 130 words a minute
# Where the subject followed by the state is not what a person says.
SPECIAL_STATE_WORDS: dict[tuple[str, str], str] = {
    # a grave call is not so: only asked about
    ("withdrawn", "glass broken"): "glass is not broken",
    ("withdrawn", "plug has gone"): "plug has not gone",
    ("withdrawn", "tube has burst"): "tube has not burst",
    ("withdrawn", "water in the firebox"): "no water in the firebox",
    ("withdrawn", "plate is red hot"): "no plate is red hot",
    ("withdrawn", "engine is over"): "engine is not over",
    ("withdrawn", "someone hurt"): "nobody is hurt",
    ("withdrawn", "somebody is burned"): "nobody is burned",
    ("withdrawn", "someone is trapped"): "nobody is trapped",
    ("withdrawn", "driver is ill"): "driver is not ill",
    ("withdrawn", "safety valve is stuck"): "safety valve is free",
    ("withdrawn", "clack is stuck open"): "clack is not stuck",
    ("withdrawn", "blow down is stuck open"): "blow-down is not stuck",
    ("withdrawn", "regulator is stuck open"): "regulator is not stuck",
    ("withdrawn", "engine is running away"): "engine is not running away",
    ("withdrawn", "chimney fire"): "no fire in the chimney",
    ("withdrawn", "fire outside"): "no fire outside",
    ("withdrawn", "steam escaping"): "no steam escapes",
    ("withdrawn", "plug weeping"): "nothing weeps in the firebox",
    ("withdrawn", "boiler leaking"): "boiler does not leak",
    ("withdrawn", "valve held"): "nothing holds the valve",
    ("withdrawn", "out of sight"): "water is in sight",
    ("water", "out of sight"): "no water in sight",
    ("pressure", "on the pin"): "needle on the pin",
    ("pressure", "no blow-down"): "no blow-down today",
    ("blow-down", "open"): "blow-down open",
    ("frost", "drained"): "boiler drained",
    ("gauge trouble", "valve wrong"): "valve set wrong",
    ("delivery", "gaining"): "glass gaining",
    ("brake", "not chocked"): "wheels not chocked",
    ("blower", "top cock"): "top cock open",
    ("emergency", "over"): "danger is over",
    ("cure", "blower_weak"): "blower trouble",
    ("cure", "pressure_hangs"): "pressure trouble",
    ("move", "overtake"): "going on from raising steam",
    ("move", "stand_by"): "standing by",
    ("move", "raise_steam"): "raising steam again",
    ("move", "move_off"): "moving off again",
    ("move", "feed"): "time to feed",
    ("move", "put_away"): "putting away",
}
PART_UNITS = ("glass", "tank")  # units of which a value is a fraction
WHOLE_UNITS = ("psi", "kPa")  # units in which half of one cannot be read off a dial


def word_count(text: str) -> int:
    """The number of spoken words; hyphens join.

    >>> word_count("Pressure one five, fifteen: is that right?")
    7
    """
    return len(re.findall(r"[A-Za-z][A-Za-z'-]*", text))


def sentences(text: str) -> list[str]:
    """The sentences of a text, each with its end mark; what has none is left out.

    >>> sentences("Damper shut. Where is the water?")
    ['Damper shut.', 'Where is the water?']
    """
    return [each.strip() for each in re.findall(r"[^.?!]+[.?!]", text)]


def sentence(text: str, end: str = ".") -> str:
    """The text with a capital letter, an end mark, and its figures in words.

    >>> sentence("water half")
    'Water half.'
    """
    text = spelled(text.strip())
    if not text:
        return ""
    return text[0].upper() + text[1:] + ("" if text[-1] in ".?!" else end)


def dial_rounded(pressure: float, unit: str) -> float:
    """A pressure as finely as its dial can be read.

    >>> dial_rounded(62.4, "psi"), dial_rounded(4.26, "bar")
    (62.0, 4.3)
    """
    return float(round(pressure)) if unit in WHOLE_UNITS else round(pressure, 1)


def quantity_words(value: float, unit: str) -> str:
    """A number and its unit in words.

    >>> quantity_words(120, "psi"), quantity_words(1, "litre"), quantity_words(0.5, "glass")
    ('a hundred and twenty pounds', 'one litre', 'half')
    """
    if unit in PART_UNITS:
        return level_words(value, unit)
    return f"{numbers.number_words(value)} {_unit_name(value, unit)}"


def _unit_name(value: float, unit: str) -> str:
    singular, plural = UNIT_NAMES.get(unit, (unit, unit))
    return singular if value == 1 else plural


def level_words(value: float, unit: str) -> str:
    """A height in the glass, or what is in the tank, as a fraction in words."""
    if value < fractions.JUST / 2:
        return "empty" if unit == "tank" else "at the very bottom"
    words = fractions.exact(value) or fractions.fraction_words(value)
    return "nearly empty" if (unit, words) == ("tank", "just showing") else words


def unit_after(report: Report, dial: str) -> str:
    """The unit to be said after the number: empty for the dial's own and for a fraction."""
    if report.unit is None or report.unit == dial or report.unit in PART_UNITS:
        return ""
    return f" {_unit_name(float(report.value), report.unit)}"


def state_words(report: Report) -> str:
    """A state in the assistant's words; of a checklist's own subject, subject and state.

    >>> state_words(Report("feed", "off")), state_words(Report("water", "out of sight"))
    ('finished feeding', 'no water in sight')
    """
    special = SPECIAL_STATE_WORDS.get((report.what, str(report.value)))
    if special is not None:
        return special
    if report.what in CALL_SUBJECTS:
        return str(report.value).replace("_", " ")
    if report == Report(ON_WATCH, IN_A_NOTE):
        return "the watch is with the person in the note"
    if report.what == ON_WATCH and report.value != NOT_NAMED:
        return f"{report.value} has the watch"
    if report.what == "boiler" and str(report.value).startswith(BY):
        return f"boiler has been {report.value}"
    return preferred_words(report.what, str(report.value)) or f"{report.what} {report.value}"


def report_words(report: Report, dial: str = "psi") -> str:
    """A report in words, its number whole. dial: the unit that need not be named.

    >>> report_words(Report("pressure", 75, "psi")), report_words(Report("water", 2 / 3, "glass"))
    ('pressure seventy five', 'water two thirds')
    """
    if isinstance(report.value, str):
        return state_words(report)
    if report.what in counted.SUBJECTS:
        return counted.counted_words(report)
    if report.unit in PART_UNITS:
        return f"{report.what} {level_words(report.value, report.unit or '')}"
    return f"{report.what} {numbers.number_words(report.value)}{unit_after(report, dial)}"


def meaning_words(meaning: Meaning, dial: str = "psi") -> str:
    """Any meaning, in words that the grammar accepts, for a question or the screen.

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


# How an order is named in a question, where its first form does not fit.
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
