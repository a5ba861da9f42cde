"""Until when she stood on a slope, by what was told: a level called there is compared with no
other. Pure.
"""

from __future__ import annotations

import math

from assistant.picture.report_log import ReportLog

SUBJECT = "stands"
SLOPES = frozenset({"nose up", "nose down", "on a slope"})
SLOPE_S = 600.0  # nobody tells of every turn of the road; after that levels count again. Judgement


def sloped_until(log: ReportLog) -> float:
    """Levels called before this stand before or on a slope [s]; minus infinity: on none."""
    until = -math.inf
    for timed in log.of(SUBJECT):
        sloped = timed.report.value in SLOPES
        until = timed.at + SLOPE_S if sloped else min(until, timed.at)
    return until
