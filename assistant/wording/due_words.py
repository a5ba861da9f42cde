"""Due dates in words, from the owner's own figures: what has run out, what soon will.

It says what the owner wrote, and never what any law asks for.
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.grammar import numbers
from assistant.messages import DueSoon
from assistant.wording.quantities import sentence

AT_ONCE = 4  # more than these are counted, not read
MONTH_DAYS = 30.4
IN_DAYS = 60  # more days than these are told in months


def due_words(dues: Sequence[DueSoon]) -> str:
    """What is said at the start.

    >>> told([DueSoon("hydraulic test", -12), DueSoon("washout", 3)])
    "By the owner's dates: hydraulic test overdue by twelve days. Washout due in three days."
    """
    if not dues:
        return "By the owner's dates, nothing is due soon."
    rest = len(dues) - AT_ONCE
    more = [sentence(f"{numbers.number_words(rest)} more in the report")] if rest > 0 else []
    first, *others = [_one(due) for due in dues[:AT_ONCE]]
    lead = sentence(f"by the owner's dates: {first}")
    return " ".join([lead, *map(sentence, others), *more])


def _one(due: DueSoon) -> str:
    days, hours = due.days_left, due.hours_left
    if days is not None and days < 0:
        return f"{due.name} overdue by {_days(-days)}"
    if hours is not None and hours < 0:
        return f"{due.name} overdue by {_hours(-hours)}"
    if hours is not None and (days is None or hours < days):
        return f"{due.name} due in {_hours(hours)}"
    if days is None:
        return f"{due.name} due soon"
    return f"{due.name} due {'today' if days == 0 else 'in ' + _days(days)}"


def _days(days: int) -> str:
    if days <= IN_DAYS:
        return f"{numbers.number_words(days)} day{'' if days == 1 else 's'}"
    return f"about {numbers.number_words(round(days / MONTH_DAYS))} months"


def _hours(hours: float) -> str:
    whole = round(hours)
    if whole < 1:
        return "less than an hour in steam"
    return f"{numbers.number_words(whole)} hour{'' if whole == 1 else 's'} in steam"
