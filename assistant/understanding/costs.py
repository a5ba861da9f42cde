"""The cost of each mistake, by what was said: one loss table. Knows no probability and no boiler.

The unit is one needless question ("seventy five: is that right?", "that's right"). The figures are
judgement. A wrong number that is accepted often stays in the book: listeners miss 10 to 40 % of
wrong read-backs (published figures, from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum

from assistant.messages import Answer, Correction, Meaning, Order, Report, Several


class Mark(Enum):
    """Where a reported height of the water stands."""

    LOW = "low"  # at or below the lower mark: costliest to miss
    NEAR = "near"  # so near either mark that a misheard fraction would cross it


MarkOf = Callable[[Report], Mark | None]


def no_mark(report: Report) -> Mark | None:
    """Without an engine no height is near a mark."""
    return None


class Care(Enum):
    """How careful the situation requires one to be, whatever was said."""

    USUAL = "usual"
    MARK = "mark"  # the water is believed to be near one of its marks
    HOLD = "hold"  # the answer opens a hold or a killer step


@dataclass(frozen=True, slots=True)
class Costs:
    """Costs of the four ways to treat an utterance, in needless questions."""

    accept_wrong: float
    """Accepted, and it was not meant."""
    confirm_right: float = 1.0
    """Asked whether it was meant, and it was."""
    confirm_wrong: float = 3.0
    """Asked whether it was meant, and it was not."""
    again: float = 2.0
    """Asked to repeat something that was said to the assistant."""
    ignored: float = 4.0
    """Ignored something that was said to the assistant."""
    disturbed: float = 3.0
    """Any reply to something that was not said to the assistant."""

    @property
    def threshold(self) -> float:
        """The probability above which accepting costs less than asking for confirmation.

        Solves (1-p) accept_wrong = p confirm_right + (1-p) confirm_wrong.
        """
        return 1 - self.confirm_right / (
            self.accept_wrong - self.confirm_wrong + self.confirm_right
        )


# accept_wrong = 1/(1-p) + 2 gives the threshold p in the remark (2.5/(1-p) + 0.5 where
# confirm_right is 2.5). Confirming a yes, a no or a harmless order ("say again: is that right?")
# costs more than having it repeated.
TABLE: dict[str, Costs] = {
    # 0.80: say again, where are we
    "harmless": Costs(accept_wrong=13, confirm_right=2.5),
    # 0.95: how long to so many pounds
    "question": Costs(accept_wrong=50.5, confirm_right=2.5),
    # 0.98: ends, skips, takes back, shelves
    "lasting": Costs(accept_wrong=52),
    # 0.90: a false "wrong" costs one more round
    "no": Costs(accept_wrong=25.5, confirm_right=2.5),
    # 0.99: a false "correct" puts a doubted value in the book
    "yes": Costs(accept_wrong=250.5, confirm_right=2.5),
    # 0.998
    "yes to a hold": Costs(accept_wrong=1250.5, confirm_right=2.5),
    # 0.99: fire, blower, damper
    "state": Costs(accept_wrong=102),
    # 0.99: the posterior of digits is overconfident (measured)
    "number": Costs(accept_wrong=102),
    # 0.995
    "water": Costs(accept_wrong=202),
    # 0.998: water near a mark, an answer that opens a hold
    "grave": Costs(accept_wrong=502),
    # 0.99; below that it is confirmed at once
    "danger": Costs(accept_wrong=102, ignored=100),
}

MILD = frozenset({"harmless", "question"})  # rows of orders that change nothing

ALL_CLEAR = "over"  # of `Report("emergency", "over")`, which ends the emergency

_LASTING = frozenset(
    {"skip", "back", "stop", "undo", "shelve", "acknowledge", "ready", "wait", "not here"}
)


def reports_in(meaning: Meaning) -> tuple[Report, ...]:
    """The reports that a meaning would enter in the book."""
    if isinstance(meaning, Several):
        return meaning.reports
    if isinstance(meaning, Correction):
        return (meaning.report,)
    return (meaning,) if isinstance(meaning, Report) else ()


def is_danger(meaning: Meaning, mark_of: MarkOf = no_mark) -> bool:
    """Whether it must never be ignored: water low or out of sight, or an emergency called."""
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

    >>> cost_row_of(Report("water", 0.5, "glass"), Care.MARK)
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
