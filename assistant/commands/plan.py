"""`footplate plan`: when to light up to be in steam by a time."""

from __future__ import annotations

import argparse
import re
from pathlib import Path

from assistant.belief.lighting_time import light_up
from assistant.commands import options
from assistant.commands.output import Out
from assistant.errors import InputWrongError

_DAY_S = 86_400


def add(parser: argparse.ArgumentParser) -> None:
    """The arguments of `plan`."""
    options.add_engine(parser)
    parser.add_argument("ready_by", metavar="HH:MM", help="when working pressure is wanted")
    parser.add_argument("--past", nargs="+", default=[], action="extend", metavar="FILE", type=Path)
    parser.add_argument("--json", action="store_true", help="one JSON object")


def run(given: argparse.Namespace, out: Out) -> int:
    """Plan; returns 0."""
    engine = options.engine_of(given, out)
    plan = light_up(engine.engine, options.past_runs(given.past, engine), _seconds(given.ready_by))
    light, sure = _clock(plan.light_s), _clock(plan.sure_s)
    if out.json:
        out.record(
            {
                "ready_by": given.ready_by,
                "light_up": light,
                "light_up_sure": sure,
                "minutes": {
                    "low": round(plan.minutes.low, 1),
                    "mid": round(plan.minutes.mid, 1),
                    "high": round(plan.minutes.high, 1),
                },
                "learned_from": plan.runs,
                "why": plan.why,
            }
        )
    else:
        out.line(f"In steam by {given.ready_by}: light up at {light}.")
        out.line(f"To be nine times in ten sure of it: at {sure}.")
        out.line(f"({plan.why})")
    return 0


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
