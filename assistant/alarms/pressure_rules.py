"""Alarm conditions for pressure, and for a valve or a gauge that says nothing. Pure."""

from __future__ import annotations

import math

from assistant.alarms.condition import GRAIN, PRESSURE_DEADBAND, psi, told_unread
from assistant.alarms.inputs import AlarmInputs
from assistant.boiler.scales import PSI_PA
from assistant.picture.part import ago
from assistant.picture.valve import SET_TOLERANCE as SET_TOLERANCE

LEAST_SET_TOLERANCE_PA = 2.0 * PSI_PA  # the same below 70 psi: ASME I, PG-72, from memory
ACCUMULATION = 1.06  # permitted with the valve open: several codes, 6 %
RISING = 0.02  # of working pressure; less between two readings is hunting. Judgement
NEAR_WORKING = 0.85  # of working pressure; from here on the list asks for blower and damper
NO_PRESSURE = 0.01  # of working pressure
VENT_STEAM = ("blows steam", "steam")  # the latter in journals of earlier versions
STEAM_SHOWS_S = 180.0  # after steam was seen the gauge must show some. Judgement
DRAUGHT_TELLS_S = 240.0  # from a damper that was shut to a fire that should feel it. Judgement
RISES_FOR_S = 90.0  # a rise is told over no less. Judgement
LIFTS_WITHIN_S = 300.0  # two lifts so near need a fire that has air. Judgement


def _valve_open(inputs: AlarmInputs) -> bool:
    return inputs.state("valve") == "lifting"


def over_pressure(inputs: AlarmInputs, at: float) -> str | None:
    """Above the lift by the set tolerance with no valve lifting, or by 6 % with one lifting.

    At once over the lift where it was asked and the valve does not lift, or nothing was said of it
    by the next reading or for some time.
    """
    pressure, lifts = inputs.number("pressure"), inputs.engine.valve_lifts_gauge_pa
    if pressure is None:
        return None
    limit = lifts * (ACCUMULATION if _valve_open(inputs) else SET_TOLERANCE)
    if inputs.picture is not None and inputs.picture.valve.silent_over_lift:
        limit = lifts
    if pressure <= limit * (1 + GRAIN):
        return None
    valve = "with the valve lifting" if _valve_open(inputs) else "and no valve lifting"
    return f"{psi(pressure)}, lift {psi(lifts)}, {valve}"


def valve_answers(inputs: AlarmInputs, at: float) -> bool:
    """The valve was told to lift, and the gauge is no higher than where one may lift."""
    pressure = inputs.number("pressure")
    limit = inputs.engine.valve_lifts_gauge_pa * SET_TOLERANCE
    return _valve_open(inputs) and pressure is not None and pressure <= limit * (1 + GRAIN)


def never_far_over(inputs: AlarmInputs, at: float) -> bool:
    """No gauge called lately was over the lift by more than a valve may be set wrong: then one
    reading under it is enough.
    """
    limit = inputs.engine.valve_lifts_gauge_pa * SET_TOLERANCE * (1 + GRAIN)
    called = (r.value for r in inputs.pressure)
    return all(not isinstance(value, float) or value <= limit for value in called)


def over_pressure_at(inputs: AlarmInputs) -> float:
    """From when a valve that nobody tells of makes it so [s]; infinity: it is not asked."""
    silent_from = None if inputs.picture is None else inputs.picture.valve.silent_from
    return math.inf if silent_from is None else silent_from


def under_the_lift(inputs: AlarmInputs, at: float) -> bool:
    pressure = inputs.number("pressure")
    if pressure is None:
        return False
    band = PRESSURE_DEADBAND * inputs.engine.working_pressure_gauge_pa
    limit = inputs.engine.valve_lifts_gauge_pa - band
    coping = _valve_open(inputs) and pressure <= inputs.engine.valve_lifts_gauge_pa
    return pressure <= limit or coping


def _stuck(inputs: AlarmInputs) -> bool:
    """Whether damper or blower does not shut."""
    return inputs.picture is not None and bool(inputs.picture.stuck)


def high_and_rising(inputs: AlarmInputs, at: float) -> str | None:
    """Above the wanted pressure and still rising, with the damper open; or over the lift with the
    valve lifting, the damper not told shut.

    Below the lift, a reading that leaps there from where the list had not yet asked for the damper
    is left to the list.
    """
    now, before = inputs.number("pressure"), inputs.number("pressure", 2)
    working = inputs.engine.working_pressure_gauge_pa
    if now is None or before is None:
        return None
    draught = inputs.state("damper") == "open" or _stuck(inputs)
    blows = _valve_open(inputs) and now > inputs.engine.valve_lifts_gauge_pa
    if not draught and not (blows and inputs.state("damper") not in ("shut", "crack")):
        return None
    if now <= working * (1 + GRAIN) or now - before < RISING * working - GRAIN:
        return None
    if before < NEAR_WORKING * working and now < inputs.engine.valve_lifts_gauge_pa:
        return None
    return f"{psi(before)} then {psi(now)}, wanted {psi(working)}, the draught open"


def not_high(inputs: AlarmInputs, at: float) -> bool:
    now = inputs.number("pressure")
    working = inputs.engine.working_pressure_gauge_pa
    damped = inputs.state("damper") in ("shut", "crack") and not _stuck(inputs)
    return now is not None and (damped or now <= working * (1 - PRESSURE_DEADBAND))


def lifts_with_damper_shut(inputs: AlarmInputs, at: float) -> str | None:
    """Damper called shut, blower not on, and then the valve lifts twice within five minutes."""
    damper, lifts = inputs.states.get("damper"), _last_two_lifts(inputs)
    if damper is None or damper.value != "shut" or inputs.state("blower") in ("half", "open"):
        return None
    if len(lifts) < 2 or lifts[0] < damper.at + DRAUGHT_TELLS_S:
        return None
    if lifts[1] - lifts[0] > LIFTS_WITHIN_S or at - lifts[1] > LIFTS_WITHIN_S:
        return None
    minutes = (lifts[1] - damper.at) / 60.0
    return f"lifts twice, {minutes:.0f} minutes after the damper was shut"


def _last_two_lifts(inputs: AlarmInputs) -> tuple[float, ...]:
    return inputs.picture.valve.lifts[-2:] if inputs.picture is not None else ()


def told_high(inputs: AlarmInputs, at: float) -> str | None:
    """A pressure at the valve's figure was heard and not settled, and none was called since."""
    told = told_unread(inputs, "pressure", "high")
    if told is None:
        return None
    return f"a pressure at the valve's figure was heard, {ago(at - told.at)}"


def valve_silent(inputs: AlarmInputs, at: float) -> str | None:
    """Past the pressure at which the valve should move, and no movement was reported."""
    pressure, moves = inputs.number("pressure"), inputs.engine.valve_moves_gauge_pa
    moving = inputs.state("valve") in ("feathering", "lifting") or inputs.valve_answered
    if pressure is None or moving or inputs.agreed or pressure < moves * SET_TOLERANCE:
        return None
    return f"gauge at {psi(pressure)}, the valve should move at {psi(moves)}"


def valve_speaks_or_lower(inputs: AlarmInputs, at: float) -> bool:
    pressure, moves = inputs.number("pressure"), inputs.engine.valve_moves_gauge_pa
    lower = pressure is not None and pressure <= moves * (1 - PRESSURE_DEADBAND)
    speaks = inputs.state("valve") in ("feathering", "lifting") or inputs.valve_answered
    return speaks or lower


def too_fast(inputs: AlarmInputs, at: float) -> str | None:
    """Rising faster than the owner's limit, below half of working pressure.

    By the last reading and the latest that is a minute and a half older: two nearer each other
    differ by how they are read.
    """
    now, working = inputs.number("pressure"), inputs.engine.working_pressure_gauge_pa
    limit = inputs.engine.rise_limit_pa_per_s
    if limit is None or now is None or now > 0.5 * working:
        return None
    last = inputs.pressure[-1].at
    older = (r for r in reversed(inputs.pressure) if last - r.at >= RISES_FOR_S)
    before = next(older, None)
    if before is None or not isinstance(before.value, float):
        return None
    lapse = last - before.at
    if (now - before.value) / lapse <= limit:
        return None
    return f"{psi((now - before.value) / lapse * 60)} a minute, limit {psi(limit * 60)}"


def blower_left_on(inputs: AlarmInputs, at: float) -> str | None:
    """At the wanted pressure with the blower still open, though it was near it a reading before."""
    now, before = inputs.number("pressure"), inputs.number("pressure", 2)
    working = inputs.engine.working_pressure_gauge_pa
    if now is None or now < working * (1 - GRAIN) or inputs.state("blower") not in ("half", "open"):
        return None
    if before is not None and before < NEAR_WORKING * working:
        return None
    return f"{psi(now)}, wanted {psi(working)}, blower {inputs.state('blower')}"


def blower_off(inputs: AlarmInputs, at: float) -> bool:
    now, working = inputs.number("pressure") or 0.0, inputs.engine.working_pressure_gauge_pa
    return inputs.state("blower") in ("shut", "crack") or now <= working * (1 - PRESSURE_DEADBAND)


def gauge_dead(inputs: AlarmInputs, at: float) -> str | None:
    """The gauge should have moved by now, or steam was seen and the gauge read since shows none."""
    now, vent = inputs.number("pressure"), inputs.states.get("vent")
    if _fire_is_out(inputs):
        return None
    if now is None or now > NO_PRESSURE * inputs.engine.working_pressure_gauge_pa:
        return None
    if (
        vent is not None
        and vent.value in VENT_STEAM
        and inputs.pressure[-1].at >= vent.at + STEAM_SHOWS_S
    ):
        return f"gauge at {psi(now)}, steam seen before that"
    if inputs.first_steam_by is None or at <= inputs.first_steam_by:
        return None
    return (
        f"gauge at {psi(now)}, {(at - inputs.first_steam_by) / 60:.0f} minutes after it should move"
    )


def gauge_due(inputs: AlarmInputs) -> float:
    return math.inf if inputs.first_steam_by is None else inputs.first_steam_by


def _fire_is_out(inputs: AlarmInputs) -> bool:
    """Whether the fire is drawn, run down or dead: then the gauge goes down and stays there."""
    return inputs.picture is not None and inputs.picture.fire.value == "drawn"


def gauge_moved(inputs: AlarmInputs, at: float) -> bool:
    return (
        _fire_is_out(inputs)
        or (inputs.number("pressure") or 0.0)
        > NO_PRESSURE * inputs.engine.working_pressure_gauge_pa
    )
