"""Until when water goes out, or went out, by the blow-down: such a fall is no leak. Pure.

By what was told alone. Knows no alarm.
"""

from __future__ import annotations

import math

from assistant.picture.report_log import ReportLog

SUBJECT = "blow-down"
OPEN_S = (
    120.0  # so long one told open is counted and shut; after that a fall is looked into. Judgement
)


def is_open(log: ReportLog) -> bool:
    """Whether it was told open, and not shut since."""
    told = log.of(SUBJECT)
    return bool(told) and told[-1].report.value == "open"


def let_out_until(log: ReportLog) -> float:
    """Levels called before this show no leak when compared with later ones [s]; minus infinity: all
    of them may be compared.

    One told shut that was never told open let nothing out.
    """
    until, opened = -math.inf, False
    for timed in log.of(SUBJECT):
        if timed.report.value == "open":
            until, opened = timed.at + OPEN_S, True
        elif opened:
            until, opened = timed.at, False
    return until
