"""Whether somebody watches her, and whether he would be heard. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.messages import NOT_NAMED, ON_WATCH, Report
from assistant.picture.given import Given
from assistant.picture.report_log import ReportLog
from assistant.picture.steam import Steam
from assistant.picture.water import Water

NOT_KEPT, STAYS = Report("watch", "not kept"), Report("fire", "watched")
WATCH = frozenset({"watch", ON_WATCH})
UNNAMED = Report(ON_WATCH, NOT_NAMED)
AWAY_INTERVALS = 2.0  # of the water: nobody who watches her is silent for longer. Judgement


@dataclass(frozen=True, slots=True)
class Person:
    """Who is at the engine."""

    age_s: float
    """How long ago he was last understood [s]."""
    watch: str
    """The name of who is on watch; empty: not known."""
    away: bool
    """Whether there is steam, and he has been silent too long though he would be heard."""
    hears: bool
    """Whether he would be heard. Deafness of the program is never his silence."""
    witnesses: tuple[str, ...]
    away_at: float | None = None
    """When his silence becomes too long if it goes on [s]; None: not counted."""
    unwatched_since: float | None = None
    """From when it was told that nobody watches her [s]; None: it was not, or somebody does."""


def person_of(given: Given, steam: Steam, water: Water) -> Person:
    """The person now. A break is our absence: his silence counts from its end."""
    age_s = given.at - given.heard_at
    witnesses = (f"last heard {age_s:.0f} s ago",) if given.hears else ("not heard now",)
    away_at = None
    if given.hears and steam.value == "steam" and water.interval_s is not None:
        began = (given.heard_at, steam.since or 0.0, given.hears_since, given.break_ended_at)
        away_at = max(began) + AWAY_INTERVALS * water.interval_s
    away = away_at is not None and given.at > away_at
    unwatched = given.reports.once("unwatched", _unwatched_since)
    return Person(age_s, given.watch, away, given.hears, witnesses, away_at, unwatched)


def _unwatched_since(log: ReportLog) -> float | None:
    """A watch that is kept, handed over by name, or a fire that somebody stays with ends it."""
    since: float | None = None
    for timed in log:
        if timed.report == NOT_KEPT:
            since = timed.at if since is None else since
        elif timed.report == UNNAMED:
            continue  # it goes to somebody who is named next, or to nobody
        elif timed.report.what in WATCH or timed.report == STAYS:
            since = None
    return since
