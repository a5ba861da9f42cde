"""Whether somebody watches her, and whether he would be heard. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.picture.given import Given
from assistant.picture.steam import Steam

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


def person_of(given: Given, steam: Steam) -> Person:
    """The person now."""
    age_s = given.at - given.heard_at
    silent_from = given.heard_at if steam.since is None else max(given.heard_at, steam.since)
    silent = given.at - silent_from > AWAY_INTERVALS * given.engine.water_interval_s
    away = steam.value == "steam" and given.hears and silent
    witnesses = (f"last heard {age_s:.0f} s ago",) if given.hears else ("not heard now",)
    return Person(age_s, given.watch, away, given.hears, witnesses)
