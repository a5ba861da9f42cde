"""`footplate plan`: when to be there and when to light up, to be in steam by a time."""

from __future__ import annotations

import argparse
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from assistant.belief.bands import Band
from assistant.belief.estimate import begin, update
from assistant.belief.forecast import minutes_to
from assistant.belief.learning import EarlierRun
from assistant.belief.lighting_time import light_up
from assistant.boiler.figures import Engine
from assistant.commands import options
from assistant.commands.output import Out
from assistant.commands.preparation_time import preparation_time
from assistant.commands.session_build import checked_session_config, header_of
from assistant.errors import InputWrongError
from assistant.messages import Report

STEAM_UP = (
    0.1  # of working pressure: from there the walk-through, too, takes it that there is steam
)
_DAY_S = 86_400


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `plan`."""
    options.add_engine(parser)
    options.add_checklist(parser)
    parser.add_argument("ready_by", metavar="HH:MM", help="when the wanted pressure is to be there")
    parser.add_argument(
        "--past", nargs="+", default=[], action="extend", metavar="FILE", type=Path,
        help="her earlier readings files and journals; these show how long preparing took, too",
    )  # fmt: skip
    parser.add_argument("--json", action="store_true", help="one JSON object")


def run(given: argparse.Namespace, out: Out) -> int:
    """Plan; returns 0."""
    engine = options.engine_of(given, out)
    past = options.past_runs(given.past, engine)
    ready_s = _seconds(given.ready_by)
    plan = light_up(engine.engine, past, ready_s)
    steam = _minutes_to_steam(engine.engine, past)
    header = header_of(engine, "", 0, "plan", [Path(p) for p in given.checklist])
    lists = checked_session_config(header).lists
    preparation = preparation_time(lists, engine.engine, given.past)
    even = Timetable(plan.light_s, preparation.minutes.mid, steam.mid)
    sure = Timetable(plan.sure_s, preparation.minutes.high, steam.high)
    if out.json:
        out.record(
            {
                "ready_by": given.ready_by,
                "light_up": _clock(even.light_s),
                "light_up_sure": _clock(sure.light_s),
                "minutes": _rounded(plan.minutes),
                "learned_from": plan.runs,
                "why": plan.why,
                "be_there": _clock(even.there_s),
                "be_there_sure": _clock(sure.there_s),
                "steam_up": _clock(even.steam_s),
                "steam_up_sure": _clock(sure.steam_s),
                "preparation": {
                    "minutes": _rounded(preparation.minutes),
                    "learned_from": preparation.runs,
                    "why": preparation.why,
                },
            }
        )
        return 0
    out.line(f"In steam by {given.ready_by}: light up at {_clock(even.light_s)}.")
    out.line(f"To be nine times in ten sure of it: at {_clock(sure.light_s)}.")
    out.line(f"({plan.why})")
    out.line()
    rows = [
        ("", "even chance", "nine in ten"),
        ("be there", _clock(even.there_s), _clock(sure.there_s)),
        ("light up", _clock(even.light_s), _clock(sure.light_s)),
        ("steam up", _clock(even.steam_s), _clock(sure.steam_s)),
        ("ready", _clock(ready_s), _clock(ready_s)),
    ]
    widest = max(len(row[1]) for row in rows) + 3
    for name, mid, high in rows:
        out.line(f"{name:11}{mid:{widest}}{high}".rstrip())
    out.line(f"({preparation.why})")
    return 0


@dataclass(frozen=True, slots=True)
class Timetable:
    """One morning, in seconds of the day."""

    light_s: float
    """when the fire is lit"""
    preparation_min: float
    """from being there to the lit fire"""
    to_steam_min: float
    """from there to steam on the gauge"""

    @property
    def there_s(self) -> float:
        """When to be at the engine."""
        return self.light_s - 60.0 * self.preparation_min

    @property
    def steam_s(self) -> float:
        """When the gauge shows `STEAM_UP` of the working pressure."""
        return self.light_s + 60.0 * self.to_steam_min


def _minutes_to_steam(engine: Engine, past: Sequence[EarlierRun]) -> Band:
    """From lighting to steam on the gauge; ValueError where it never comes."""
    lit = update(begin(engine, 0.0, past), Report("fire", "lit"), 0.0)
    forecast = minutes_to(lit, STEAM_UP * engine.working_pressure_gauge_pa)
    if forecast.band is None:
        raise ValueError(forecast.why)
    return forecast.band


def _rounded(minutes: Band) -> dict[str, float]:
    return {key: round(getattr(minutes, key), 1) for key in ("low", "mid", "high")}


def _seconds(text: str) -> float:
    match = re.fullmatch(r"([01]?\d|2[0-3]):([0-5]\d)", text)
    if not match:
        raise InputWrongError(f"{text!r} is not a time of day like 10:30")
    return 3600.0 * int(match[1]) + 60.0 * int(match[2])


def _clock(seconds: float) -> str:
    """A time of day; an earlier day is named.

    >>> _clock(-3600)
    '23:00 the day before'
    """
    whole = round(seconds / 60) * 60
    day, rest = divmod(whole, _DAY_S)
    time_of_day = f"{rest // 3600:02d}:{rest % 3600 // 60:02d}"
    if day == 0:
        return time_of_day
    return f"{time_of_day} the day before" if day == -1 else f"{time_of_day}, {-day} days before"
