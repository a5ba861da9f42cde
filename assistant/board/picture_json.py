"""The picture of a session as JSON: what a screen shows, and nothing else. Pure.

Knows the session's state; no network, no page and no clock. Ages are counted to the time given.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from assistant.alarms.lifecycle import Alarm
from assistant.belief import forecast, water_forecast
from assistant.belief.bands import Band
from assistant.belief.estimate import predict
from assistant.boiler.figures import Engine
from assistant.boiler.scales import PRESSURE_PA, PSI_PA, pressure_gauge_pa
from assistant.dialogue.agenda import beside, danger_words, water_forbids
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import DEAF, MISSES, picture_now
from assistant.dialogue.session_config import SessionConfig
from assistant.dialogue.state import STEP, SessionState
from assistant.dialogue.time_to_pressure import minutes_now
from assistant.messages import Tick
from assistant.picture.picture import Picture
from assistant.procedure import position
from assistant.wording.dial_units import in_dial

CHART_POINTS = 400  # of the day's readings, the latest
TANK = ("tank is full", "tank is three quarters", "tank is half", "tank is a quarter")
"""A tank is told in words: it has no pick of its own on the page."""


@dataclass(frozen=True, slots=True)
class Told:
    """What the session does not keep: the words said last, and what was heard last."""

    wanted: str = ""
    """The question or act put last."""
    heard: str = ""
    """The words heard last, "" for none."""


def picture_json(
    config: SessionConfig, state: SessionState, at: float, told: Told
) -> dict[str, Any]:
    """Everything that the board shows, at a time [s since the session began]."""
    context = EventContext(config, state, Tick(state.at))
    picture, late_s = picture_now(context), max(at - state.at, 0.0)
    return {
        "at_s": round(at, 1),
        "phase": state.phase.value,
        "engine": _engine(config.engine, config.dial),
        "pressure": _pressure(state, picture, late_s),
        "water": _water(state, picture, late_s),
        **_minutes(context, at),
        "wanted": told.wanted,
        "next": _next(state),
        **_answers(state),
        "alarms": [_alarm(context, alarm, at) for alarm in state.watch.spoken()],
        "hears": {"state": _hears(state), "last": told.heard},
        "due_s": _due(picture, at),
        "interval_s": picture.water.interval_s,
        "states": _states(picture),
        "chart": _chart(state),
        "over": state.clock.over,
    }


def _engine(engine: Engine, dial: str) -> dict[str, Any]:
    scale = PRESSURE_PA[dial]
    return {
        "name": engine.name,
        "unit": dial,
        "unit_pa": scale,
        "working": round(engine.working_pressure_gauge_pa / scale, 2),
        "lifts": round(engine.valve_lifts_gauge_pa / scale, 2),
        "lower_mark": engine.glass.lower_mark,
        "upper_mark": engine.glass.upper_mark,
    }


def _pressure(state: SessionState, picture: Picture, late_s: float) -> dict[str, Any]:
    gauge = picture.gauge
    warm = state.fire_in or gauge.pressure_pa is not None
    believed = forecast.pressure(state.belief) if warm else None
    return {
        "psi": None if gauge.pressure_pa is None else round(gauge.pressure_pa / PSI_PA, 1),
        "age_s": _age(gauge.age_s, late_s),
        "believed_psi": None if believed is None else _band(believed, 1.0 / PSI_PA, 1),
        "state": gauge.value,
        "old": gauge.old,
    }


def _water(state: SessionState, picture: Picture, late_s: float) -> dict[str, Any]:
    water = picture.water
    called = water.age_s is not None and water.level is not None
    trend = water_forecast.water_trend(state.belief) if called else None
    shows = called and picture.glass.value not in ("broken",) and not water.out_of_sight
    believed = water_forecast.water(state.belief) if shows else None
    return {
        "glass": None if water.level is None else round(water.level, 4),
        "age_s": _age(water.age_s, late_s),
        "state": water.value,
        "believed": None if believed is None else _band(believed, 1.0, 3),
        "trend": trend.word if trend else "unknown",
        "cause": trend.cause if trend else "unknown",
    }


def _minutes(context: EventContext, at: float) -> dict[str, Any]:
    """Minutes to the wanted pressure, as they would be spoken now, or why there are none."""
    config, state = context.config, context.state
    if not state.fire_in:
        return {"minutes": None, "why": "no fire is lit"}
    wanted_pa = config.engine.working_pressure_gauge_pa
    found = minutes_now(context, wanted_pa, predict(state.belief, at))
    band = None if found.band is None else _band(found.band, 1.0, 1)
    return {"minutes": band, "why": in_dial(found.why, config.dial)}


def _next(state: SessionState) -> str:
    step = position.in_hand(state.progress) or position.current(state.progress)
    return "" if step is None else step.say


def _answers(state: SessionState) -> dict[str, Any]:
    """What the step in hand asks about, "" for none, and the words that would answer what was put.

    Those of the step in hand first, then those of steps that were put before and are still open.
    """
    step = position.in_hand(state.progress)
    put = [s for s in position.open_steps(state.progress) if STEP + s.id in state.asked]
    words: dict[str, None] = {}
    for each in ([step] if step is not None else []) + put:
        forms = TANK if each.asks == "tank" else tuple(r.spoken[0] for r in each.replies)
        words.update(dict.fromkeys(forms))
    return {"asks": "" if step is None else step.asks, "answers": list(words)}


def _alarm(context: EventContext, alarm: Alarm, at: float) -> dict[str, Any]:
    """An alarm, with what the voice says of it; "" where that is done, or a graver one says it."""
    grade, said = alarm.rule.grade.word, ""
    if not (beside.silenced(context, alarm) or water_forbids.is_done(context, alarm)):
        words = danger_words.words(context, alarm).removeprefix(f"{grade.capitalize()}. ")
        said = context.in_his_words(words)
    return {
        "name": alarm.name,
        "grade": grade,
        "since_s": round(max(at - alarm.raised_at, 0.0), 1),
        "says": said,
        "acknowledged": alarm.acknowledged_at is not None,
    }


def _hears(state: SessionState) -> str:
    if state.lost_devices & DEAF:
        return "lost"
    return "poor" if state.hearing.misses >= MISSES else "good"


def _due(picture: Picture, at: float) -> float | None:
    """Seconds until the water is wanted again; negative: overdue; None: not wanted."""
    water = picture.water
    if water.interval_s is None or water.awaited_since is None:
        return None
    return round(water.awaited_since + water.interval_s - at, 1)


def _states(picture: Picture) -> dict[str, Any]:
    feeds = picture.feeds
    return {
        "fire": picture.fire.value,
        "blower": picture.blower.value or "not told",
        "damper": picture.damper.value or "not told",
        "valve": picture.valve.value,
        "glass": picture.glass.value,
        "regulator": picture.motion.regulator.value or "not told",
        "feeds": sorted(feeds.values("proved today")),
        "steam": picture.steam.value,
    }


def _chart(state: SessionState) -> dict[str, list[list[float]]]:
    """The day's readings: seconds and psi, seconds and part of the glass."""
    pressures, waters = [], []
    for timed in state.reports.of("pressure")[-CHART_POINTS:]:
        if not isinstance(timed.report.value, str):
            psi = pressure_gauge_pa(timed.report) / PSI_PA
            pressures.append([round(timed.at, 1), round(psi, 1)])
    for timed in state.reports.of("water")[-CHART_POINTS:]:
        if timed.report.unit == "glass" and not isinstance(timed.report.value, str):
            waters.append([round(timed.at, 1), round(float(timed.report.value), 3)])
    return {"pressure": pressures, "water": waters}


def _age(age_s: float | None, late_s: float) -> float | None:
    return None if age_s is None or not math.isfinite(age_s) else round(age_s + late_s, 1)


def _band(band: Band, scale: float, places: int) -> dict[str, float] | None:
    values = {name: getattr(band, name) * scale for name in ("low", "mid", "high")}
    if not all(math.isfinite(value) for value in values.values()):
        return None
    return {name: round(value, places) for name, value in values.items()}
