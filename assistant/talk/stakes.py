"""What a mistake costs, by what was said: one table. Knows no probability and no boiler.

The unit is one needless question ("seventy five: correct?" answered with "correct"). The other
figures are judgement: a published 10 to 40 % of wrong read-backs pass the listener unnoticed
(reference figures from memory), so a wrong number that is taken at once often stays in the book.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from assistant.messages import Answer, Correction, Meaning, Order, Report, Several


class Care(Enum):
    """How much the moment asks for, besides what was said."""

    USUAL = "usual"
    MARK = "mark"  # the water is believed to be near one of its marks
    HOLD = "hold"  # the answer opens a hold or a killer step


@dataclass(frozen=True, slots=True)
class Costs:
    """Costs of the four ways to take an utterance, in needless questions.

    accept_wrong: taken at once, and it was not meant.
    confirm_right, confirm_wrong: asked about, and it was (not) meant.
    again: asked to say it again though it was for us.
    ignored: passed over though it was for us.
    disturbed: any reply of ours to what was not for us.
    """

    accept_wrong: float
    confirm_right: float = 1.0
    confirm_wrong: float = 3.0
    again: float = 2.0
    ignored: float = 4.0
    disturbed: float = 3.0

    @property
    def sure(self) -> float:
        """The probability above which taking it at once costs less than asking about it.

        From (1-p) accept_wrong = p confirm_right + (1-p) confirm_wrong.
        """
        return 1 - self.confirm_right / (
            self.accept_wrong - self.confirm_wrong + self.confirm_right
        )


# accept_wrong = 1/(1-p) + 2 makes `sure` the p in the remark.
TABLE: dict[str, Costs] = {
    "harmless": Costs(accept_wrong=7),  # sure above 0.80: say again, where are we
    "lasting": Costs(accept_wrong=52),  # 0.98: ends, skips, takes back, shelves
    "no": Costs(accept_wrong=12),  # 0.90: a false "wrong" costs one more round
    "yes": Costs(accept_wrong=102),  # 0.99: a false "correct" puts a doubted value in the book
    "state": Costs(accept_wrong=52),  # 0.98: fire, blower, damper
    "number": Costs(accept_wrong=102),  # 0.99: the posterior of digits is not honest (measured)
    "water": Costs(accept_wrong=202),  # 0.995
    "grave": Costs(accept_wrong=502),  # 0.998: water near a mark, an answer that opens a hold
    "danger": Costs(accept_wrong=7, confirm_right=1, ignored=100),  # 0.80: missing it costs most
}

LASTING = frozenset({"skip", "back", "stop", "undo", "shelve", "acknowledge", "ready", "wait"})


def is_danger(meaning: Meaning) -> bool:
    """A report that must never be passed over: nothing in the glass, or an emergency."""
    if isinstance(meaning, Several):
        return any(is_danger(report) for report in meaning.reports)
    if isinstance(meaning, Correction):
        return is_danger(meaning.report)
    return isinstance(meaning, Report) and (
        meaning.what == "emergency" or (meaning.what, meaning.value) == ("water", "out of sight")
    )


def _report_kind(report: Report) -> str:
    if report.what == "water":
        return "water"
    return "state" if isinstance(report.value, str) else "number"


def kind_of(meaning: Meaning, care: Care = Care.USUAL) -> str:
    """The row of `TABLE` that a meaning falls under.

    >>> kind_of(Report("water", 0.5, "glass"), Care.MARK)
    'grave'
    """
    match meaning:
        case _ if is_danger(meaning):
            return "danger"
        case Order(name):
            return "lasting" if name in LASTING else "harmless"
        case Answer(word):
            return "grave" if word == "yes" and care is Care.HOLD else word
    reports = meaning.reports if isinstance(meaning, Several) else (_one(meaning),)
    if care is Care.HOLD:
        return "grave"
    if care is Care.MARK and any(report.what == "water" for report in reports):
        return "grave"
    return max((_report_kind(report) for report in reports), key=lambda k: TABLE[k].accept_wrong)


def _one(meaning: Report | Correction) -> Report:
    return meaning.report if isinstance(meaning, Correction) else meaning
