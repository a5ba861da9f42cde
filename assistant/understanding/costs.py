"""The cost of each mistake, by what was said: one loss table. Knows no probability and no boiler.

The unit is one needless question ("seventy five: is that right?", "that's right"). The figures are
judgement. A wrong number that is accepted often stays in the book: listeners miss 10 to 40 % of
wrong read-backs (published figures, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.messages import Answer, DecisionKind, Meaning, Order, Report
from assistant.understanding.meanings import (
    ALL_CLEAR,
    Care,
    Mark,
    MarkOf,
    is_danger,
    no_mark,
    reports_in,
)


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

_LASTING = frozenset(
    {"skip", "back", "stop", "undo", "shelve", "acknowledge", "ready", "wait", "not here"}
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


def expected_cost(kind: DecisionKind, probability: float, for_us: float, costs: Costs) -> float:
    """The expected cost of a way to treat an utterance, in needless questions.

    probability: of the best meaning; for_us: that anything was said to the assistant at all.

    >>> round(expected_cost("accept", 0.99, 1.0, TABLE["number"]), 2)
    1.02
    """
    match kind:
        case "accept":
            return (1 - probability) * costs.accept_wrong
        case "confirm":
            other = max(for_us - probability, 0.0) * costs.confirm_wrong
            return probability * costs.confirm_right + other + (1 - for_us) * costs.disturbed
        case "again":
            return for_us * costs.again + (1 - for_us) * costs.disturbed
        case "ignore":
            return for_us * costs.ignored
        case "note":
            raise ValueError("a note is not weighed")
