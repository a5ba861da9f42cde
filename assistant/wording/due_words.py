"""Due dates in words, from the owner's own figures: what is overdue, what is due soon.

States what the owner wrote, never what any law requires.
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.grammar import numbers
from assistant.messages import DueSoon
from assistant.wording.quantities import sentence

AT_ONCE = 4  # further ones are counted, not read out
MONTH_DAYS = 30.4
IN_DAYS = 60  # longer times are given in months


def due_words(dues: Sequence[DueSoon]) -> str:
    """What is said at the start of a session.

    >>> due_words([DueSoon("hydraulic test", -12), DueSoon("washout", 3)])
    "By the owner's dates: hydraulic test overdue by twelve days. Washout due in three days."
    """
    if not dues:
        return "By the owner's dates, nothing is due soon."
    rest = len(dues) - AT_ONCE
    more = [sentence(f"{numbers.number_words(rest)} more in the report")] if rest > 0 else []
    first, *others = [_due_phrase(due) for due in dues[:AT_ONCE]]
    lead = sentence(f"by the owner's dates: {first}")
    return " ".join([lead, *map(sentence, others), *more])


def _due_phrase(due: DueSoon) -> str:
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
