"""When pressure, gauge, valve or fire raises an alarm. Pure; no words for the ear."""

from __future__ import annotations

import math

from assistant.alarms.condition import GRAIN, PRESSURE_DEADBAND, psi
from assistant.alarms.inputs import AlarmInputs, TimedValue

SET_TOLERANCE = 1.03  # a valve may be set so far off its figure: ASME I, 70 to 300 psi
ACCUMULATION = 1.06  # more than this with the valve open: it cannot cope. Several codes, 6 %
BEFORE_S, AFTER_S = 45.0, 180.0  # a gauge reading that belongs to a valve's report. Judgement
DISAGREE = 0.06  # gauge against valve, as a part of the valve's own figure: the same 6 %
COALING_S = 480.0  # fresh coal takes heat for some minutes: common practice, no source
FALLING = 0.03  # of working pressure, below the highest of `PEAK_S`. Judgement
PEAK_S = 900.0
RISING = 0.02  # of working pressure: less between two readings is hunting, not rising
NEAR_WORKING = 0.85  # of working pressure: from here on blower and damper are asked for
NO_PRESSURE = 0.01  # of working pressure
_STEAM = ("blows steam", "steam")  # the latter in books of earlier versions
STEAM_SHOWS_S = 180.0  # so long after steam was seen the gauge must show some. Judgement


def _valve_open(s: AlarmInputs) -> bool:
    return s.state("valve") == "lifting"


def over_pressure(s: AlarmInputs, at: float) -> str | None:
    """Above the lift, as closely as valves are set, with none lifting; or 6 % above with one."""
    pressure, lifts = s.number("pressure"), s.engine.valve_lifts_gauge_pa
    if pressure is None:
        return None
    limit = lifts * (ACCUMULATION if _valve_open(s) else SET_TOLERANCE)
    if pressure <= limit * (1 + GRAIN):
        return None
    valve = "with the valve lifting" if _valve_open(s) else "and no valve lifting"
    return f"{psi(pressure)}, lift {psi(lifts)}, {valve}"


def under_the_lift(s: AlarmInputs, at: float) -> bool:
    pressure = s.number("pressure")
    if pressure is None:
        return False
    band = PRESSURE_DEADBAND * s.engine.working_pressure_gauge_pa
    limit = s.engine.valve_lifts_gauge_pa - band
    coping = _valve_open(s) and pressure <= s.engine.valve_lifts_gauge_pa
    return pressure <= limit or coping


def high_and_rising(s: AlarmInputs, at: float) -> str | None:
    """Above working pressure and rising on, with the damper open.

    A reading that leaps there from where the list has not asked for the damper yet is left to the
    list; at the lift it is not.
    """
    now, before = s.number("pressure"), s.number("pressure", 2)
    working = s.engine.working_pressure_gauge_pa
    if now is None or before is None or s.state("damper") != "open":
        return None
    if now <= working * (1 + GRAIN) or now - before < RISING * working - GRAIN:
        return None
    if before < NEAR_WORKING * working and now < s.engine.valve_lifts_gauge_pa:
        return None
    return f"{psi(before)} then {psi(now)}, working {psi(working)}, damper open"


def not_high(s: AlarmInputs, at: float) -> bool:
    now = s.number("pressure")
    working = s.engine.working_pressure_gauge_pa
    damped = s.state("damper") in ("shut", "crack")
    return now is not None and (damped or now <= working * (1 - PRESSURE_DEADBAND))


def disagree(s: AlarmInputs, at: float) -> str | None:
    """The valve moves where the gauge says it should not."""
    valve = s.states.get("valve")
    if valve is None or valve.value not in ("feathering", "lifting"):
        return None
    shown = _gauge_when(s, valve)
    if shown is None:
        return None
    low = s.engine.valve_feathers_gauge_pa * (1 - DISAGREE)
    high = s.engine.valve_lifts_gauge_pa * (1 + DISAGREE)
    if low <= shown <= high:
        return None
    return f"valve {valve.value} with the gauge at {psi(shown)}; {psi(low)} to {psi(high)} expected"


def _gauge_when(s: AlarmInputs, valve: TimedValue) -> float | None:
    """The gauge as read just before the valve's report or soon after it; nothing is guessed."""
    close = [
        (abs(r.at - valve.at), r.value)
        for r in s.pressure
        if isinstance(r.value, float) and -BEFORE_S <= r.at - valve.at <= AFTER_S
    ]
    return min(close)[1] if close else None


def valve_quiet(s: AlarmInputs, at: float) -> bool:
    return s.state("valve") == "shut" or (bool(s.state("valve")) and disagree(s, at) is None)


def too_fast(s: AlarmInputs, at: float) -> str | None:
    """Rising faster than the owner's limit, below half of working pressure."""
    now, before = s.number("pressure"), s.number("pressure", 2)
    working = s.engine.working_pressure_gauge_pa
    limit = s.engine.rise_limit_pa_per_s
    if limit is None or now is None or before is None or now > 0.5 * working:
        return None
    lapse = s.pressure[-1].at - s.pressure[-2].at
    if lapse < 90.0 or (now - before) / lapse <= limit:
        return None
    return f"{psi((now - before) / lapse * 60)} a minute, limit {psi(limit * 60)}"


def slow_enough(s: AlarmInputs, at: float) -> bool:
    return too_fast(s, at) is None


def falling(s: AlarmInputs, at: float) -> str | None:
    """The pressure falls while steam is raised, and neither coal nor feed explains it."""
    now, before = s.number("pressure"), s.number("pressure", 2)
    if s.phase != "raising steam" or now is None or before is None or now >= before:
        return None
    if now >= s.engine.working_pressure_gauge_pa:  # steam is up, and the fire is held back
        return None
    since = s.pressure[-1].at - PEAK_S
    peak = max(r.value for r in s.pressure if isinstance(r.value, float) and r.at >= since)
    if peak - now < FALLING * s.engine.working_pressure_gauge_pa or _explained(s):
        return None
    return f"{psi(peak)}, now {psi(now)} while raising steam"


def _explained(s: AlarmInputs) -> bool:
    fire, read_at = s.states.get("fire"), s.pressure[-1].at
    coal = fire is not None and fire.value == "coal" and read_at - fire.at < COALING_S
    just = [s.states[w] for w in ("feed", "bypass") if w in s.states]
    fed = s.feeding is not None or any(
        f.value in ("off", "open") and read_at - f.at < COALING_S / 2 for f in just
    )
    blowing = s.state("valve") in ("feathering", "lifting") or s.state("damper") == "shut"
    return coal or fed or blowing


def not_falling(s: AlarmInputs, at: float) -> bool:
    now, before = s.number("pressure"), s.number("pressure", 2)
    return s.phase != "raising steam" or (now is not None and before is not None and now > before)


def blower_left_on(s: AlarmInputs, at: float) -> str | None:
    """At working pressure with the blower still open, though it was near it a reading before."""
    now, before = s.number("pressure"), s.number("pressure", 2)
    working = s.engine.working_pressure_gauge_pa
    if now is None or now < working * (1 - GRAIN) or s.state("blower") not in ("half", "open"):
        return None
    if before is not None and before < NEAR_WORKING * working:
        return None
    return f"{psi(now)}, working {psi(working)}, blower {s.state('blower')}"


def blower_off(s: AlarmInputs, at: float) -> bool:
    now, working = s.number("pressure") or 0.0, s.engine.working_pressure_gauge_pa
    return s.state("blower") in ("shut", "crack") or now <= working * (1 - PRESSURE_DEADBAND)


def gauge_dead(s: AlarmInputs, at: float) -> str | None:
    """The gauge should have moved by now, or steam was seen and the gauge read since shows none."""
    now, vent = s.number("pressure"), s.states.get("vent")
    if now is None or now > NO_PRESSURE * s.engine.working_pressure_gauge_pa:
        return None
    if vent is not None and vent.value in _STEAM and s.pressure[-1].at >= vent.at + STEAM_SHOWS_S:
        return f"gauge at {psi(now)}, steam seen before that"
    if s.first_steam_by is None or at <= s.first_steam_by:
        return None
    return f"gauge at {psi(now)}, {(at - s.first_steam_by) / 60:.0f} minutes after it should move"


def gauge_due(s: AlarmInputs) -> float:
    return math.inf if s.first_steam_by is None else s.first_steam_by


def gauge_moved(s: AlarmInputs, at: float) -> bool:
    return (s.number("pressure") or 0.0) > NO_PRESSURE * s.engine.working_pressure_gauge_pa
