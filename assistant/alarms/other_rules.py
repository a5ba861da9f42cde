"""Alarm conditions for overdue readings, devices, calls, the plan and open steps. Pure."""

from __future__ import annotations

import math
from collections.abc import Callable

from assistant.alarms.condition import GRAIN, BackToNormal, Condition
from assistant.alarms.inputs import AlarmInputs
from assistant.picture.heat import MOVING

FAR_FROM_PLAN_S = 900.0
HELD = "on and chocked"  # of the brake


def _awaited_since(inputs: AlarmInputs, what: str) -> float:
    """From when the next reading of a gauge is awaited [s]; infinity while none is wanted."""
    if inputs.steam_since is None:
        return math.inf
    last = inputs.last(what)
    return max(inputs.steam_since, last.at if last else inputs.steam_since)


def _overdue(inputs: AlarmInputs, what: str, at: float, allowed_s: float) -> str | None:
    waited_s = at - _awaited_since(inputs, what)
    return f"no {what} reading for {waited_s / 60:.0f} minutes" if waited_s > allowed_s else None


def pressure_overdue(inputs: AlarmInputs, at: float) -> str | None:
    """No pressure reading for two intervals."""
    return _overdue(inputs, "pressure", at, 2 * inputs.engine.water_interval_s)


def pressure_due(inputs: AlarmInputs) -> float:
    return _awaited_since(inputs, "pressure") + 2 * inputs.engine.water_interval_s


def far_from_plan(inputs: AlarmInputs, at: float) -> str | None:
    """Wanted pressure is expected a quarter of an hour or more away from the plan."""
    if inputs.plan_at is None or inputs.forecast_at is None:
        return None
    off = inputs.forecast_at - inputs.plan_at
    if abs(off) < max(FAR_FROM_PLAN_S, inputs.plan_margin_s):
        return None
    return f"{abs(off) / 60:.0f} minutes {'late' if off > 0 else 'early'}"


def near_plan(inputs: AlarmInputs, at: float) -> bool:
    if inputs.plan_at is None or inputs.forecast_at is None:
        return inputs.plan_at is None  # with a plan, a missing forecast is not normal
    return abs(inputs.forecast_at - inputs.plan_at) <= 0.7 * max(
        FAR_FROM_PLAN_S, inputs.plan_margin_s
    )


def left_open(inputs: AlarmInputs, at: float) -> str | None:
    """A step was left open aloud."""
    return ", ".join(inputs.left_open) or None


def nothing_open(inputs: AlarmInputs, at: float) -> bool:
    return not inputs.left_open


def device_lost(name: str) -> Condition:
    """The device of that name does not work."""

    def lost(inputs: AlarmInputs, at: float) -> str | None:
        return (
            str(inputs.lost_devices[name].value) or f"{name} lost"
            if name in inputs.lost_devices
            else None
        )

    return lost


def is_device_back(name: str) -> BackToNormal:
    return lambda inputs, at: name not in inputs.lost_devices


def never_denied(inputs: AlarmInputs, at: float) -> float:
    """No report shows that it is not so."""
    return -math.inf


def valve_moved_at(inputs: AlarmInputs, at: float) -> float:
    """When the safety valve was last told to lift, or to feather if it does [s]; minus infinity:
    never.
    """
    valve = None if inputs.picture is None else inputs.picture.valve
    if valve is None:
        return -math.inf
    if valve.value in MOVING:
        return at - (valve.age_s or 0.0)
    return max(valve.lifts, default=-math.inf)


def glass_replaced_at(inputs: AlarmInputs, at: float) -> float:
    """Now, where the glass is not the broken one any more: a new one was put in, or one was proved;
    minus infinity: it is.
    """
    broken = inputs.picture is not None and inputs.picture.glass.value == "broken"
    return -math.inf if broken else at


def held_at(inputs: AlarmInputs, at: float) -> float:
    """When she was last told to be braked and chocked [s]; minus infinity where she is not."""
    brake = None if inputs.picture is None else inputs.picture.motion.brake
    if brake is None or brake.value != HELD or brake.age_s is None:
        return -math.inf
    return at - brake.age_s


def stopped_at(inputs: AlarmInputs, at: float) -> float:
    """When she was last told to have stopped, or to be braked and chocked [s]; minus infinity: she
    was not.
    """
    told = inputs.states.get("engine")
    stopped = told.at if told is not None and told.value == "stopped" else -math.inf
    return max(stopped, held_at(inputs, at))


def cannot_creep_at(inputs: AlarmInputs, at: float) -> float:
    """When she was last told to be braked and chocked [s]; now, where there is no steam to move
    her; minus infinity: she may.
    """
    seen = inputs.picture
    cold = seen is not None and seen.steam.value == "cold"
    return at if cold else held_at(inputs, at)


def drawn_in_at(inputs: AlarmInputs, at: float) -> float:
    """When the flames were last told to be drawn in [s]; minus infinity: they were not."""
    told = inputs.states.get("flames")
    return told.at if told is not None else -math.inf


def blow_down_shut_at(inputs: AlarmInputs, at: float) -> float:
    """When the blow-down was last told to be shut [s]; minus infinity: it was not."""
    told = inputs.states.get("blow-down")
    return told.at if told is not None and told.value == "shut" else -math.inf


def regulator_shut_at(inputs: AlarmInputs, at: float) -> float:
    """When the regulator was last told to be shut [s]; minus infinity: it was not."""
    told = None if inputs.picture is None else inputs.picture.motion.regulator
    if told is None or told.value != "shut" or told.age_s is None:
        return -math.inf
    return at - told.age_s


def may_end(inputs: AlarmInputs, at: float) -> bool:
    """A word ends it."""
    return True


def presses_no_more(inputs: AlarmInputs, at: float) -> bool:
    """The fire is out, or the gauge is under where the valve moves."""
    seen = inputs.picture
    if seen is None or seen.fire.out:
        return True
    pressure_pa = seen.gauge.pressure_pa
    return pressure_pa is not None and pressure_pa < inputs.engine.valve_moves_gauge_pa


def level_kept(inputs: AlarmInputs, at: float) -> bool:
    """The fire is out, or a level was called since the last call of a danger that is no lower than
    the one before it: what lets water out has stopped.
    """
    if inputs.picture is not None and inputs.picture.fire.out:
        return True
    called = max((e.at for e in inputs.emergencies if e.value != "over"), default=math.inf)
    levels = [(r.value, r.at) for r in inputs.water]
    since = [value for value, when in levels if when > called]
    before = [value for value, when in levels if when <= called][-1:]
    numbers = [value for value in (*before, *since) if isinstance(value, float)]
    if not since or len(numbers) < len(since) + len(before):
        return False
    return len(numbers) == 1 or numbers[-1] >= numbers[-2] - GRAIN


def emergency_called(
    name: str,
    denied_at: Callable[[AlarmInputs, float], float] = never_denied,
    ends: BackToNormal = may_end,
) -> Condition:
    """Somebody called this emergency, and no report denies it since; nor has anybody called it
    over, which counts only where it may end.
    """

    def called(inputs: AlarmInputs, at: float) -> str | None:
        told_over = (e.at for e in inputs.emergencies if e.value == "over")
        over = max(told_over, default=-math.inf) if ends(inputs, at) else -math.inf
        over = max(over, denied_at(inputs, at))
        calls = [e.at for e in inputs.emergencies if e.value == name and e.at > over]
        return f"{name}, called" if calls else None

    return called


def either(one: Condition, other: Condition) -> Condition:
    """What one of the two gives."""
    return lambda inputs, at: one(inputs, at) or other(inputs, at)


def valve_told_held(inputs: AlarmInputs, at: float) -> str | None:
    """The safety valve was found held or stuck, there is a fire or steam, and it has not moved."""
    seen, told = inputs.picture, inputs.states.get("safety valve")
    if seen is None or told is None or told.value != "stuck" or seen.fire.out:
        return None
    heat = seen.fire.burning or seen.steam.value == "steam"
    if not heat or valve_moved_at(inputs, at) > told.at:
        return None
    return "the safety valve was told to be stuck or held"


def not_overdue(condition: Condition) -> BackToNormal:
    """Back to normal as soon as the reading comes."""
    return lambda inputs, at: inputs.steam_since is None or condition(inputs, at) is None
