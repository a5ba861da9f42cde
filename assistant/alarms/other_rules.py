"""Readings that should have come, devices, calls, the plan, open steps. Pure; no words."""

from __future__ import annotations

import math

from assistant.alarms.condition import BackToNormal, Condition
from assistant.alarms.inputs import AlarmInputs

FAR_FROM_PLAN_S = 900.0


def _awaited_since(s: AlarmInputs, what: str) -> float:
    """From when the next reading of a gauge is awaited [s]; infinity before there is steam."""
    if s.steam_since is None:
        return math.inf
    last = s.last(what)
    return max(s.steam_since, last.at if last else s.steam_since)


def _overdue(s: AlarmInputs, what: str, at: float, allowed_s: float) -> str | None:
    waited_s = at - _awaited_since(s, what)
    return f"no {what} reading for {waited_s / 60:.0f} minutes" if waited_s > allowed_s else None


def water_overdue(s: AlarmInputs, at: float) -> str | None:
    """No water reading for longer than the owner's interval (five minutes by default)."""
    return _overdue(s, "water", at, s.engine.water_interval_s)


def water_due(s: AlarmInputs) -> float:
    return _awaited_since(s, "water") + s.engine.water_interval_s


def pressure_overdue(s: AlarmInputs, at: float) -> str | None:
    """No pressure reading for two intervals."""
    return _overdue(s, "pressure", at, 2 * s.engine.water_interval_s)


def pressure_due(s: AlarmInputs) -> float:
    return _awaited_since(s, "pressure") + 2 * s.engine.water_interval_s


def far_from_plan(s: AlarmInputs, at: float) -> str | None:
    """Working pressure is expected a quarter of an hour or more away from the plan."""
    if s.plan_at is None or s.forecast_at is None:
        return None
    off = s.forecast_at - s.plan_at
    if abs(off) < max(FAR_FROM_PLAN_S, s.plan_within_s):
        return None
    return f"{abs(off) / 60:.0f} minutes {'late' if off > 0 else 'early'}"


def near_plan(s: AlarmInputs, at: float) -> bool:
    if s.plan_at is None or s.forecast_at is None:
        return s.plan_at is None  # no forecast is not a good one
    return abs(s.forecast_at - s.plan_at) <= 0.7 * max(FAR_FROM_PLAN_S, s.plan_within_s)


def left_open(s: AlarmInputs, at: float) -> str | None:
    """Steps were left open aloud."""
    return ", ".join(s.left_open) or None


def nothing_open(s: AlarmInputs, at: float) -> bool:
    return not s.left_open


def device_lost(name: str) -> Condition:
    """The device of that name does not work."""

    def lost(s: AlarmInputs, at: float) -> str | None:
        return str(s.lost[name].value) or f"{name} lost" if name in s.lost else None

    return lost


def is_device_back(name: str) -> BackToNormal:
    return lambda s, at: name not in s.lost


def emergency_called(name: str) -> Condition:
    """Somebody called this emergency and nobody has called it over."""

    def call(s: AlarmInputs, at: float) -> str | None:
        over = max((e.at for e in s.emergencies if e.value == "over"), default=float("-inf"))
        calls = [e.at for e in s.emergencies if e.value == name and e.at > over]
        return f"{name}, called" if calls else None

    return call


def call_over(name: str) -> BackToNormal:
    return lambda s, at: emergency_called(name)(s, at) is None


def not_overdue(condition: Condition) -> BackToNormal:
    """Inside at once when the reading came: the reading itself closes the alarm."""
    return lambda s, at: s.steam_since is None or condition(s, at) is None
