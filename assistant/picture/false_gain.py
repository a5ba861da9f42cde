"""Whether a level called after a low one is higher than feed and heat can have made it. Pure.

Such a level is doubted until the glass is proved. By what was called and the engine's file alone;
knows no alarm. Judgement throughout.
"""

from __future__ import annotations

from assistant.picture.feed_fold import Run, feeds_told
from assistant.picture.feed_names import delivery_per_s, feeds_of
from assistant.picture.given import Given
from assistant.picture.glass_history import PROVED_BY
from assistant.picture.readings import Reading, waters
from assistant.picture.report_log import ReportLog
from assistant.picture.slope import sloped_until

MOST = 2.0  # times what the file tells of a feed
UNTOLD = 3.0  # times the strongest feed that has a figure
ROUNDED = 0.13  # of the glass: what two calls may be wrong by together
SETTLES_S = 60.0  # after the regulator is shut the level falls back from its swell


def gains_too_much(given: Given) -> bool:
    """Whether the level is higher than it can be, by the last one called at the mark or under it.

    Of a feed without a figure it is taken that it gives three times what the strongest other does;
    where the file tells of none, nobody knows.
    """
    return given.reports.once(f"false gain {given.long_breaks}", lambda log: _too_much(log, given))


def _too_much(log: ReportLog, given: Given) -> bool:
    low = _last_low(log, given)
    called = waters(log, given.engine)
    now = called[-1] if called else None
    if low is None or now is None or now.value is None or low.value is None:
        return False
    runs = feeds_told(given).runs
    given_by = [_most_given(given, run, low.at, now.at) for run in runs]
    if any(most is None for most in given_by):
        return False
    fed = sum(most or 0.0 for most in given_by)
    warmed = max(given.expansion(low.at, now.at) or 0.0, 0.0)
    return now.value - low.value > fed + warmed + ROUNDED


def _last_low(log: ReportLog, given: Given) -> Reading | None:
    """The last level called at the lower mark or under it, the glass not proved since."""
    proofs = [t.at for t in log.of("glass") if t.report.value in PROVED_BY]
    since = max([sloped_until(log), *proofs])  # on a slope it was no level either
    mark = given.engine.glass.lower_mark + 1e-6
    levels = (r for r in waters(log, given.engine) if r.value is not None and r.at > since)
    return max((r for r in levels if (r.value or 0.0) <= mark), key=lambda r: r.at, default=None)


def _most_given(given: Given, run: Run, from_s: float, to_s: float) -> float | None:
    """The most that a feed can have given in that time [of the glass]; None: not known."""
    ran_s = run.running_s(from_s, to_s)
    if ran_s <= 0.0:
        return 0.0
    per_s = delivery_per_s(given.engine, run.feed)
    if per_s is not None:
        return MOST * per_s * ran_s
    others = [delivery_per_s(given.engine, feed) for feed in feeds_of(given.engine)]
    known = [other for other in others if other is not None]
    return UNTOLD * max(known) * ran_s if known else None


def swells(log: ReportLog, at: float) -> bool:
    """Whether steam is drawn, or was until a moment ago: the level stands too high."""
    told = log.of("regulator")
    if not told:
        return False
    last = told[-1]
    opened = any(t.report.value == "open" for t in told)
    return last.report.value == "open" or (opened and at - last.at < SETTLES_S)
