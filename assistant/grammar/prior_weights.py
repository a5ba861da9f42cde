"""The prior of each meaning: how often it is said, before anything is heard.

Knows what is expected and how many meanings there are of each kind; knows no sound. An answer is
one of a few, an unprompted number one of thousands: with equal priors every noise is a number.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from assistant.grammar.states import CALL_SUBJECTS, EMERGENCIES, is_state
from assistant.messages import (
    COAL_PUT_ON,
    READINGS,
    WATER_PUT_IN,
    Answer,
    Correction,
    Expected,
    Meaning,
    Order,
    Report,
    Several,
)

USUAL_UNITS = ("glass", "tank")
REPLIES = frozenset({"repeat", "not yet", "ready"})  # orders that are a reply to a question

# Percent of utterances of each kind (judgement: there are no recordings of people using it).
# "asked" answers the question in hand, "unasked" states what nobody asked about.
Shares = Mapping[str, float]
AFTER_A_QUESTION: Shares = MappingProxyType(
    {
        "asked": 70.0,
        "reply": 6.0,
        "unasked": 11.0,
        "call": 0.5,
        "yes or no": 2.0,
        "order": 2.0,
        "pressure": 3.0,
        "water": 3.0,
        "tank": 0.3,
        "together": 1.0,
        "correction": 0.5,
        "odd unit": 0.2,
    }
)
UNPROMPTED: Shares = MappingProxyType(
    {
        "asked": 0.0,
        "reply": 5.0,
        "unasked": 35.0,
        "call": 2.0,
        "yes or no": 3.0,
        "order": 15.0,
        "pressure": 15.0,
        "water": 15.0,
        "tank": 3.0,
        "together": 3.0,
        "correction": 2.0,
        "odd unit": 0.5,
    }
)
# How the share of what nobody asked about is divided. "now": true of this engine at any time, or in
# this list; "elsewhere": of another list, and possible with this fire and steam; the impossible
# stays a rival, so that a noise is not taken for what is left. Judgement.
UNASKED: Shares = MappingProxyType(
    {"now": 6 / 12, "elsewhere": 4 / 12, "another phase": 1.5 / 12, "impossible": 0.5 / 12}
)
# Meanings among which the share of a kind is divided: the order of magnitude of the grammar.
KIND_SIZES: Mapping[str, int] = MappingProxyType(
    {
        "reply": 3,
        "now": 25,
        "elsewhere": 80,
        "another phase": 40,
        "impossible": 40,
        "call": 10,
        "yes or no": 2,
        "order": 20,
        "pressure": 60,
        "water": 20,
        "tank": 20,
        "together": 200,
        "correction": 60,
        "odd unit": 300,
    }
)
_NOT_NOW = ("another phase", "impossible")
ALL_CLEAR = "over"  # of `Report("emergency", "over")`
RARE = 0.1  # against a value that is usually read
# A dial is figured every five or ten pounds (common practice, no source). With 0.15 the values
# between the figures, four times as many, are a third of all readings.
BETWEEN = 0.15
_DENOMINATORS = ((4, 1.0), (3, 0.7), (8, 0.5), (6, 0.3))  # a glass is read by quarters first
CALLED_SHARE = 2.0  # percent, for the calls of all emergencies together ...
EMERGENCY_WEIGHT = CALLED_SHARE / len(EMERGENCIES)  # ... and for each, in every situation
NO_WATER_WEIGHT = 0.5  # percent, for no water in sight, and for the end of an emergency


def weight(meaning: Meaning, expected: Expected) -> float:
    """The prior of one meaning, in percent; only ratios matter.

    >>> yes_or_no = Expected("answer", about="pressure")
    >>> weight(Answer("yes"), yes_or_no) > 50 * weight(Report("pressure", 75.0, "psi"), yes_or_no)
    True
    """
    shares = UNPROMPTED if expected.kind == "any" else AFTER_A_QUESTION
    if isinstance(meaning, Report) and _about_an_emergency(meaning):
        called = meaning.what == "emergency" and meaning.value != ALL_CLEAR
        return EMERGENCY_WEIGHT if called else NO_WATER_WEIGHT
    if is_answer(meaning, expected):
        return shares["asked"] / _count_asked(meaning, expected) * _rarity(meaning, expected)
    kind = _kind(meaning, expected)
    share = shares["unasked"] * UNASKED[kind] if kind in UNASKED else shares[kind]
    return share / KIND_SIZES[kind] * _rarity(meaning, expected)


def _rarity(meaning: Meaning, expected: Expected) -> float:
    """How much rarer a value is than a round one in the usual unit."""
    match meaning:
        case Correction(report) if isinstance(report, Report):
            value, unit = report.value, report.unit
        case Report(what) if what in (COAL_PUT_ON, WATER_PUT_IN):
            return 1.0
        case Report(_, value, unit) | Order(_, value, unit):
            pass
        case _:
            return 1.0
    if value is None or isinstance(value, str):
        return 1.0
    if unit in USUAL_UNITS:
        return next((share for parts, share in _DENOMINATORS if _is_whole(value * parts)), RARE)
    if isinstance(meaning, Order):
        return 1.0 if _is_whole(value / 5) else BETWEEN
    if unit != expected.pressure_unit:
        return RARE
    if unit == "psi":
        by_figure = 1.0 if _is_whole(value / 5) else BETWEEN
        return by_figure * (RARE if value > 200.0 else 1.0)
    return 1.0


def _is_whole(number: float) -> bool:
    return abs(number - round(number)) < 1e-6


def is_answer(meaning: Meaning, expected: Expected) -> bool:
    """Whether this answers the question in hand."""
    match expected.kind:
        case "pressure" | "water" | "tank":
            return isinstance(meaning, Report) and meaning.what == expected.kind
        case "answer":
            return isinstance(meaning, Answer) or _repeats_value(meaning, expected.about)
        case "state":
            return isinstance(meaning, Report) and meaning.what == _asked_subject(expected)
    return False


def has_no_number(meaning: Meaning) -> bool:
    """Whether it is an order without a number, a yes or no, the state of one thing, or a count."""
    match meaning:
        case Order(value=None) | Answer():
            return True
        case Report(value=str()):
            return True
        case Report(what) if what in (COAL_PUT_ON, WATER_PUT_IN):
            return True  # a few counts, not thousands of numbers
    return False


def _asked_subject(expected: Expected) -> str | None:
    """What the step asks about: its own answers come first."""
    return expected.answers[0][1].what if expected.answers else None


def _repeats_value(meaning: Meaning, about: str | None) -> bool:
    report = meaning.report if isinstance(meaning, Correction) else meaning
    return isinstance(report, Report) and report.what == about


def _count_asked(meaning: Meaning, expected: Expected) -> int:
    match expected.kind:
        case "pressure" | "water" | "tank":
            return KIND_SIZES[expected.kind]
        case "answer":
            # judgement: four in five say yes or no, the others repeat the value
            return (
                3 if isinstance(meaning, Answer) else 5 * KIND_SIZES.get(expected.about or "", 20)
            )
    return len(
        {report for _, report in expected.answers if report.what == _asked_subject(expected)}
    )


def _about_an_emergency(report: Report) -> bool:
    """An emergency called or declared over, or no water in sight: never made improbable.

    `costs.is_danger` asks something else (may it be ignored?), and leaves out "danger over".
    """
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
        case Report(what) if what in CALL_SUBJECTS:
            return "call"
    if is_state(meaning) or any(meaning == report for _, report in expected.answers):
        return "now"
    if meaning in expected.impossible:
        return "impossible"
    return "another phase" if meaning in expected.another_phase else "elsewhere"


def is_elsewhere(meaning: Meaning, expected: Expected) -> bool:
    """Whether it is only the answer to a step of a list that is not in hand."""
    return any(kind in ("elsewhere", *_NOT_NOW) for kind in _kinds(meaning, expected))


def is_not_now(meaning: Meaning, expected: Expected) -> bool:
    """Whether such a step belongs to another phase, or to a fire or steam that is not there."""
    return any(kind in _NOT_NOW for kind in _kinds(meaning, expected))


def _kinds(meaning: Meaning, expected: Expected) -> list[str]:
    reports = meaning.reports if isinstance(meaning, Several) else (meaning,)
    return [_kind(report, expected) for report in reports]
