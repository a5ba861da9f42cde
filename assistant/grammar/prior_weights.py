"""What people say to a question, how often: the share of each kind of meaning before it is heard.

Knows what is expected and how many meanings there are of each kind; knows no sound. An answer to
the question is one of a few, a number out of the blue one of thousands: whoever gives both the same
share hears numbers in every noise.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from assistant.messages import (
    READINGS,
    Answer,
    Correction,
    Expected,
    Meaning,
    Order,
    Report,
    Several,
)

CALLS = frozenset({"cure", "move", "emergency"})  # subjects that call up something else
USUAL_UNITS = ("glass", "tank")
REPLIES = frozenset({"repeat", "not yet", "ready"})  # orders that answer a question in their way

# How often, in a hundred utterances, it is one of these (judgement: no recordings of people at work
# with it are to be had). "asked" answers the question in hand, "ahead" a later step's.
Shares = Mapping[str, float]
AFTER_A_QUESTION: Shares = MappingProxyType(
    {
        "asked": 70.0,
        "reply": 6.0,
        "ahead": 5.0,
        "call": 0.5,
        "yes or no": 2.0,
        "order": 2.0,
        "state": 6.0,
        "pressure": 3.0,
        "water": 3.0,
        "tank": 0.3,
        "together": 1.0,
        "correction": 0.5,
        "odd unit": 0.2,
    }
)
OUT_OF_THE_BLUE: Shares = MappingProxyType(
    {
        "asked": 0.0,
        "reply": 5.0,
        "ahead": 15.0,
        "call": 2.0,
        "yes or no": 3.0,
        "order": 15.0,
        "state": 20.0,
        "pressure": 15.0,
        "water": 15.0,
        "tank": 3.0,
        "together": 3.0,
        "correction": 2.0,
        "odd unit": 0.5,
    }
)
# Meanings of each kind among which its share is divided: of the order of what the grammar lists.
COUNTS: Mapping[str, int] = MappingProxyType(
    {
        "reply": 3,
        "ahead": 12,
        "call": 10,
        "yes or no": 2,
        "order": 20,
        "state": 25,
        "pressure": 60,
        "water": 20,
        "tank": 20,
        "together": 200,
        "correction": 60,
        "odd unit": 300,
    }
)
RARE = 0.1
# A gauge is read to its figures, which stand five or ten pounds apart, and a glass by quarters,
# then thirds and eighths (common practice, no source). A value between two figures is called once
# for seven calls of one with a figure: there are four times as many, so a third of all calls.
BETWEEN = 0.15
_PARTS = ((4, 1.0), (3, 0.7), (8, 0.5), (6, 0.3))
LEAST_FOR_DANGER = 0.5  # of a hundred, for each report of an emergency or of no water in sight


def weight(meaning: Meaning, expected: Expected) -> float:
    """The share of one meaning, in hundredths; only ratios matter.

    >>> yes_or_no = Expected("answer", about="pressure")
    >>> weight(Answer("yes"), yes_or_no) > 50 * weight(Report("pressure", 75.0, "psi"), yes_or_no)
    True
    """
    shares = OUT_OF_THE_BLUE if expected.kind == "any" else AFTER_A_QUESTION
    if isinstance(meaning, Report) and _is_danger(meaning):
        return LEAST_FOR_DANGER
    if is_answer(meaning, expected):
        return shares["asked"] / _count_asked(meaning, expected) * _rarity(meaning, expected)
    kind = _kind(meaning, expected)
    return shares[kind] / COUNTS[kind] * _rarity(meaning, expected)


def _rarity(meaning: Meaning, expected: Expected) -> float:
    """How much rarer a value is called than a round one in the usual unit."""
    match meaning:
        case Correction(report) if isinstance(report, Report):
            value, unit = report.value, report.unit
        case Report(_, value, unit) | Order(_, value, unit):
            pass
        case _:
            return 1.0
    if value is None or isinstance(value, str):
        return 1.0
    if unit in USUAL_UNITS:
        return next((share for parts, share in _PARTS if _whole(value * parts)), RARE)
    if isinstance(meaning, Order):
        return 1.0 if _whole(value / 5) else BETWEEN
    if unit != expected.pressure_unit:
        return RARE
    if unit == "psi":
        usual = 1.0 if _whole(value / 5) else BETWEEN
        return usual * (RARE if value > 200.0 else 1.0)
    return 1.0


def _whole(number: float) -> bool:
    return abs(number - round(number)) < 1e-6


def is_answer(meaning: Meaning, expected: Expected) -> bool:
    """Whether this answers the question in hand."""
    match expected.kind:
        case "pressure" | "water" | "tank":
            return isinstance(meaning, Report) and meaning.what == expected.kind
        case "answer":
            return isinstance(meaning, Answer) or _value_again(meaning, expected.about)
        case "state":
            return isinstance(meaning, Report) and meaning.what == _asked(expected)
    return False


def in_words(meaning: Meaning) -> bool:
    """Whether there is no number in it: an order, an answer, one thing's state."""
    match meaning:
        case Order(value=None) | Answer():
            return True
        case Report(value=str()):
            return True
    return False


def _asked(expected: Expected) -> str | None:
    """What a step asks about: its own words come first among the answers."""
    return expected.answers[0][1].what if expected.answers else None


def _value_again(meaning: Meaning, about: str | None) -> bool:
    report = meaning.report if isinstance(meaning, Correction) else meaning
    return isinstance(report, Report) and report.what == about


def _count_asked(meaning: Meaning, expected: Expected) -> int:
    match expected.kind:
        case "pressure" | "water" | "tank":
            return COUNTS[expected.kind]
        case "answer":
            # four in five say yes or no, the rest the value once more
            return 3 if isinstance(meaning, Answer) else 5 * COUNTS.get(expected.about or "", 20)
    return len({report for _, report in expected.answers if report.what == _asked(expected)})


def _is_danger(report: Report) -> bool:
    return report.what == "emergency" or (report.what, report.value) == ("water", "out of sight")


def _kind(meaning: Meaning, expected: Expected) -> str:
    match meaning:
        case Answer():
            return "yes or no"
        case Order(name):
            return "reply" if name in REPLIES else "order"
        case Correction():
            return "correction"
        case Several():
            return "together"
        case Report(what, value, unit) if what in READINGS:
            usual = unit in (*USUAL_UNITS, expected.pressure_unit) or isinstance(value, str)
            return what if usual else "odd unit"
        case Report(what) if what in CALLS:
            return "call"
    ahead = any(meaning == report for _, report in expected.answers)
    return "ahead" if ahead else "state"
