"""How long a break was, by two witnesses: the file's date, and the book's own times."""

from __future__ import annotations

import datetime

from assistant.journal.header import Header
from assistant.journal.reader import IN_REAL_TIME

AGREE_S = 120.0  # a clock that is set right moves by less. Judgement
LONGEST_S = 400 * 86_400.0  # no steam-up is gone on with after a year: that clock was wrong
CLOCK_SET_BACK = "The clock was set back. How long the break was is not known."
DISAGREE = "Clock and book disagree on how long the break was. The longer counts."


def break_length(now_s: float, written_s: float, recorded_s: float | None) -> tuple[float, str]:
    """Seconds of the break, and what is to be said of it, empty where the witnesses agree.

    written_s: the file's date. recorded_s: the start and the time of the last record together; None
    where the book does not follow the clock (a script). All in seconds since 1970.

    >>> break_length(1000.0, 400.0, 395.0), break_length(9000.0, 8900.0, 400.0)[0]
    ((600.0, ''), 8600.0)
    """
    lengths = [now_s - past_s for past_s in (written_s, recorded_s) if past_s is not None]
    believable = [length for length in lengths if 0.0 <= length <= LONGEST_S]
    if not believable:
        return (0.0, CLOCK_SET_BACK) if min(lengths) < 0.0 else (min(lengths), DISAGREE)
    if len(believable) == len(lengths) and max(lengths) - min(lengths) <= AGREE_S:
        return lengths[0], ""
    return max(believable), DISAGREE


def recorded_s(header: Header, last_s: float) -> float | None:
    """When the last event was, by the book; None where its times are not those of a clock."""
    if header.how not in IN_REAL_TIME:
        return None
    try:
        started = datetime.datetime.fromisoformat(header.started)
        return started.timestamp() + last_s if started.tzinfo is not None else None
    except (ValueError, OverflowError, OSError):
        return None
