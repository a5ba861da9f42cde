"""What a mistake costs, by what was said: one table. Knows no probability and no boiler.

The unit is one needless question ("seventy five: is that right?", "that's right"). The other
figures are judgement: a published 10 to 40 % of wrong read-backs pass the listener unnoticed
(reference figures from memory), so a wrong number that is taken at once often stays in the book.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum

from assistant.messages import Answer, Correction, Meaning, Order, Report, Several


class Mark(Enum):
    """Where a reported height of the water stands."""

    LOW = "low"  # at or below the lower mark: to miss it costs most
    NEAR = "near"  # so near either mark that a misheard fraction would cross it


MarkOf = Callable[[Report], Mark | None]


def no_mark(report: Report) -> Mark | None:
    """For those who know no glass."""
    return None


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


# accept_wrong = 1/(1-p) + 2 makes `sure` the p in the remark (2.5/(1-p) + 0.5 where a question
# costs 2.5).
# A yes, a no and an order that does no harm are not asked about but asked for again: "say again:
# correct?" helps nobody, so their question is made dearer than saying them once more.
TABLE: dict[str, Costs] = {
    "harmless": Costs(
        accept_wrong=13, confirm_right=2.5
    ),  # sure above 0.80: say again, where are we
    "question": Costs(accept_wrong=50.5, confirm_right=2.5),  # 0.95: how long to so many pounds
    "lasting": Costs(accept_wrong=52),  # 0.98: ends, skips, takes back, shelves
    "no": Costs(accept_wrong=25.5, confirm_right=2.5),  # 0.90: a false "wrong" costs one more round
    "yes": Costs(
        accept_wrong=250.5, confirm_right=2.5
    ),  # 0.99: a false "correct" puts a doubted value in the book
    "yes to a hold": Costs(accept_wrong=1250.5, confirm_right=2.5),  # 0.998
    "state": Costs(accept_wrong=102),  # 0.99: fire, blower, damper (one was wrong at 0.980)
    "number": Costs(accept_wrong=102),  # 0.99: the posterior of digits is not honest (measured)
    "water": Costs(accept_wrong=202),  # 0.995
    "grave": Costs(accept_wrong=502),  # 0.998: water near a mark, an answer that opens a hold
    "danger": Costs(accept_wrong=102, ignored=100),  # 0.99; less sure, it is asked at once
}

MILD = frozenset({"harmless", "question"})  # rows of what is only answered: nothing is written

ALL_CLEAR = "over"  # `Report("emergency", "over")`: taken wrongly it would end what must go on

_LASTING = frozenset({"skip", "back", "stop", "undo", "shelve", "acknowledge", "ready", "wait"})


def reports_in(meaning: Meaning) -> tuple[Report, ...]:
    """The reports that a meaning would put in the book."""
    if isinstance(meaning, Several):
        return meaning.reports
    if isinstance(meaning, Correction):
        return (meaning.report,)
    return (meaning,) if isinstance(meaning, Report) else ()


def is_danger(meaning: Meaning, mark_of: MarkOf = no_mark) -> bool:
    """A report that must never be passed over: water low or not in sight, or an emergency."""
    return any(
        (report.what == "emergency" and report.value != ALL_CLEAR)
        or (report.what, report.value) == ("water", "out of sight")
        or mark_of(report) is Mark.LOW
        for report in reports_in(meaning)
    )


def _report_kind(report: Report) -> str:
    if report.what == "water":
        return "water"
    return "state" if isinstance(report.value, str) else "number"


def cost_row_of(meaning: Meaning, care: Care = Care.USUAL, mark_of: MarkOf = no_mark) -> str:
    """The row of `TABLE` that a meaning falls under.

    >>> kind_of(Report("water", 0.5, "glass"), Care.MARK)
    'grave'
    """
    match meaning:
        case Order(name, value):
            mild = "harmless" if value is None else "question"
            return "lasting" if name in _LASTING else mild
        case Answer(word):
            return "yes to a hold" if word == "yes" and care is Care.HOLD else word
    if is_danger(meaning, mark_of):
        return "danger"
    reports = reports_in(meaning)
    waters = [report for report in reports if report.what == "water"]
    near = care is Care.MARK or any(mark_of(report) is Mark.NEAR for report in waters)
    all_clear = Report("emergency", ALL_CLEAR) in reports
    if care is Care.HOLD or all_clear or (waters and near):
        return "grave"
    return max((_report_kind(report) for report in reports), key=lambda k: TABLE[k].accept_wrong)
