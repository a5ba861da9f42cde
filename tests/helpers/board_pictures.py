"""Pictures for the board's page: as sessions make them, with the shortest and the longest words."""

from __future__ import annotations

import copy
import json
from functools import lru_cache
from pathlib import Path
from typing import Any

from day_story import Day, taken_over
from session_story import parts

from assistant.alarms.rules import RULES
from assistant.board.picture_json import Told, picture_json
from assistant.boiler.scales import PRESSURE_PA
from assistant.journal import reader
from assistant.messages import Say, Urgency

BOOKS = Path(__file__).parents[1] / "data" / "journals"
LONGEST_WHY = (
    "the damper is in: a hundred and forty three pounds holds or falls and does not reach "
    "a hundred and sixty eight pounds"
)
"""The longest form of belief/hold_detection.py, with the longest figures."""
LONGEST_NAME = "Traction engine of the museum, Number 7"
DAY_S = 86_400.0

Picture = dict[str, Any]


@lru_cache(maxsize=1)
def prompts() -> tuple[str, ...]:
    """What was ever put in the kept sessions, the shortest first."""
    found = {
        effect.text
        for book in BOOKS.glob("session_*.jsonl")
        for turn in reader.read(book).exchanges()
        for effect in turn.effects
        if isinstance(effect, Say) and effect.urgency is Urgency.PROMPT
    }
    return tuple(sorted(found, key=len))


def longest_answers() -> list[str]:
    """As many as any step has, the longest of all lists."""
    replies = [step.replies for each in parts().lists for step in each.steps]
    words = {reply.spoken[0] for several in replies for reply in several}
    return sorted(words, key=len)[-max(map(len, replies)) :]


def of(day: Day, wanted: str, heard: str) -> Picture:
    """The picture of a day now."""
    state = day.session.state
    made = picture_json(day.session.config, state, state.at, Told(wanted, heard))
    return dict(json.loads(json.dumps(made)))


def in_unit(picture: Picture, unit: str) -> Picture:
    """The same, on an engine whose gauge shows this unit."""
    engine, scale = picture["engine"], picture["engine"]["unit_pa"] / PRESSURE_PA[unit]
    changed = {
        "unit": unit, "unit_pa": PRESSURE_PA[unit],
        "working": engine["working"] * scale, "lifts": engine["lifts"] * scale,
    }  # fmt: skip
    return {**picture, "engine": {**engine, **changed}}


def shortest() -> Picture:
    """A cold engine of which nothing was said."""
    return of(Day("practice"), prompts()[0], "")


def usual() -> Picture:
    """A practice engine that raises steam."""
    day = taken_over("raising steam", "practice", "pressure forty")
    day.reply("water half")
    day.reply("pressure fifty", after_s=120.0)
    return of(day, "Where is the water?", "pressure fifty")


def longest() -> Picture:
    """The longest words and figures that may stand in each place at once."""
    picture = copy.deepcopy(usual())
    picture["engine"]["name"] = LONGEST_NAME
    picture["pressure"] |= {"psi": 288.0, "age_s": DAY_S, "state": "in conflict", "old": True}
    picture["water"] |= {
        "state": "glass broken", "glass": None, "age_s": DAY_S, "believed": None,
        "trend": "unknown", "cause": "unknown",
    }  # fmt: skip
    picture["wanted"] = picture["next"] = prompts()[-1]
    picture["minutes"], picture["why"] = None, LONGEST_WHY
    picture["asks"], picture["answers"] = "glass", longest_answers()
    picture["hears"] = {"state": "good", "last": "pressure one hundred and forty five " * 5}
    picture["states"] |= {
        "feeds": ["hand pump", "injector", "pump"], "valve": "feathering", "glass": "proved cold",
    }  # fmt: skip
    return picture


def widest() -> Picture:
    """The widest figures: minutes of three digits, and a level in words of two."""
    picture = copy.deepcopy(longest())
    picture["minutes"] = {"low": 118.0, "mid": 150.0, "high": 240.0}
    picture["water"] |= usual()["water"] | {"glass": 0.375, "age_s": 85.0}
    picture["pressure"] |= {"state": "believed", "old": False}
    return picture


def alarm(rule: Any, since_s: float = 5400.0) -> Picture:
    """One alarm as the picture tells it."""
    return {
        "name": rule.name, "grade": rule.grade.name.lower(), "since_s": since_s,
        "says": rule.text.partition(". ")[2], "acknowledged": False,
    }  # fmt: skip


def each_alarm() -> list[Picture]:
    """A picture for every row of the table of alarms, one standing in each."""
    base = usual()
    return [{**base, "alarms": [alarm(rule)]} for rule in RULES]


def many_alarms() -> Picture:
    """The longest words, and six alarms."""
    ordered = sorted(RULES, key=lambda rule: -len(rule.text))
    return {**longest(), "alarms": [alarm(rule) for rule in ordered[:6]]}


def by_name() -> dict[str, Picture]:
    """The states that are looked at in every size, light and unit."""
    return {
        "shortest": shortest(), "usual": usual(), "longest": longest(), "widest": widest(),
        "many alarms": many_alarms(),
    }  # fmt: skip
