"""When each alarm is raised, and when a reading counts as inside again. Pure; no words for the ear.

A condition returns the reason, made of the numbers used, or None. `inside` is stricter than "not
raised": it lies away from the limit by the deadband (5 % of the glass, 2 % of the dial's working
range; EEMUA 191 practice, from memory).
"""

from __future__ import annotations

from collections.abc import Callable

from assistant.boiler.scales import PSI_PA
from assistant.watch.sight import OUT_OF_SIGHT, Seen, Sight

LEVEL_DEADBAND = 0.05
PRESSURE_DEADBAND = 0.02  # of working pressure
GRAIN = 1e-6  # a reading called exactly at a mark is at the mark

SET_TOLERANCE = 1.03  # a valve may be set so far off its figure: ASME I, 70 to 300 psi
ACCUMULATION = 1.06  # more than this with the valve open: it cannot cope. Several codes, 6 %
BEFORE_S, AFTER_S = 45.0, 120.0  # a gauge reading that belongs to a valve's report. Judgement
DISAGREE = 0.06  # gauge against valve, as a part of the valve's own figure: the same 6 %
FEED_TELLS_S = 60.0  # a glass needs this long to show a feed. Judgement
FALL_WITH_FEED = 0.02  # of the glass, twice what a reading can be out. Judgement
MOVES = 0.15  # of the glass: more than the eighth that it is called in. Judgement
STILL = 0.01
COALING_S = 480.0  # fresh coal takes heat for some minutes: common practice, no source
FALLING = 0.03  # of working pressure, below the highest of `PEAK_S`. Judgement
PEAK_S = 900.0
FAST_S = 600.0  # working pressure from cold in less than this is too fast: common practice
NEAR_UPPER = 0.02
NO_PRESSURE = 0.01  # of working pressure
STEAM_SHOWS_S = 180.0  # so long after steam was seen the gauge must show some. Judgement
FULL_GLASS = 0.97
TANK_EMPTY = 0.05
FAR_FROM_PLAN_S = 900.0

Condition = Callable[[Sight, float], str | None]
Inside = Callable[[Sight, float], bool]


def psi(pressure_gauge_pa: float) -> str:
    """A pressure in words for a reason.

    >>> psi(689475.7)
    '100 psi'
    """
    return f"{pressure_gauge_pa / PSI_PA:.0f} psi"


# --- water ---------------------------------------------------------------------------------------


def low_water(s: Sight, at: float) -> str | None:
    """The last reading is at or below the lower mark, with fire or steam."""
    water = s.number("water")
    mark = s.engine.glass.lower_mark
    if water is None or not s.hot or water > mark + GRAIN:
        return None
    return f"water {water:.2f} of the glass, lower mark {mark:.2f}"


def low_water_over(s: Sight, at: float) -> bool:
    water = s.number("water")
    return water is not None and water >= s.engine.glass.lower_mark + LEVEL_DEADBAND - GRAIN


def out_of_sight(s: Sight, at: float) -> str | None:
    """No water in sight, with fire or steam."""
    last = s.last("water")
    gone = last is not None and last.value == OUT_OF_SIGHT and s.hot
    return "no water in sight" if gone else None


def perhaps_low(s: Sight, at: float) -> str | None:
    """Nobody has read it since, but it is believed to be at the lower mark by now."""
    mark, last = s.engine.glass.lower_mark, s.number("water")
    if s.water_now is None or not s.hot or last is None or last <= mark + GRAIN:
        return None
    if s.water_now.mid > mark:
        return None
    return f"water believed at {s.water_now.mid:.2f} by now, lower mark {mark:.2f}"


def not_low_by_belief(s: Sight, at: float) -> bool:
    return perhaps_low(s, at) is None


def falling_with_feed(s: Sight, at: float) -> str | None:
    """A reading taken with the feed on stands clearly below the one before."""
    now, before = s.number("water"), s.number("water", 2)
    if now is None or before is None or s.feeding is None:
        return None
    feed_at, read_at, earlier_at = s.feeding.at, s.water[-1].at, s.water[-2].at
    if read_at < feed_at + FEED_TELLS_S or earlier_at < feed_at - 2 * FEED_TELLS_S:
        return None
    if before - now < FALL_WITH_FEED - GRAIN:
        return None
    return f"water {before:.2f} then {now:.2f} with the feed on"


def rising_or_unfed(s: Sight, at: float) -> bool:
    now, before = s.number("water"), s.number("water", 2)
    return s.feeding is None or (now is not None and before is not None and now >= before)


def motionless(s: Sight, at: float) -> str | None:
    """In steam, the glass should have moved clearly since it first stood here, and has not."""
    now, before = s.number("water"), s.number("water", 2)
    if now is None or before is None or s.glass_moves is None or s.steam_since is None:
        return None
    if abs(s.glass_moves) < MOVES or abs(now - before) >= STILL:
        return None
    return f"glass still at {now:.2f}; it should have moved by {s.glass_moves:+.2f}"


def moving(s: Sight, at: float) -> bool:
    now, before = s.number("water"), s.number("water", 2)
    return now is not None and before is not None and abs(now - before) >= STILL


def glass_full(s: Sight, at: float) -> str | None:
    """The surface cannot be seen for too much water."""
    water = s.number("water")
    full = water is not None and s.hot and water >= FULL_GLASS
    return f"water {water:.2f} of the glass" if full else None


def near_upper(s: Sight, at: float) -> str | None:
    """Near the upper mark or above it, with fire or steam; putting away, it is filled to there."""
    water, mark = s.number("water"), s.engine.glass.upper_mark
    if water is None or not s.hot or s.phase == "putting away" or water < mark - NEAR_UPPER - GRAIN:
        return None
    return f"water {water:.2f} of the glass, upper mark {mark:.2f}"


def under_upper(s: Sight, at: float) -> bool:
    water = s.number("water")
    limit = s.engine.glass.upper_mark - NEAR_UPPER - LEVEL_DEADBAND
    return water is not None and water <= limit + GRAIN


def glass_not_full(s: Sight, at: float) -> bool:
    water = s.number("water")
    return water is not None and water <= FULL_GLASS - LEVEL_DEADBAND + GRAIN


def tank_empty(s: Sight, at: float) -> str | None:
    """Nothing worth pumping is left."""
    tank = s.number("tank")
    return f"tank {tank:.2f}" if tank is not None and tank <= TANK_EMPTY + GRAIN else None


def tank_filled(s: Sight, at: float) -> bool:
    tank = s.number("tank")
    return tank is not None and tank >= TANK_EMPTY + LEVEL_DEADBAND - GRAIN


# --- readings that should have come --------------------------------------------------------------


def _overdue(s: Sight, what: str, at: float, allowed_s: float) -> str | None:
    if s.steam_since is None:
        return None
    last = s.last(what)
    since = max(s.steam_since, last.at if last else s.steam_since)
    if at - since <= allowed_s:
        return None
    return f"no {what} reading for {(at - since) / 60:.0f} minutes"


def water_overdue(s: Sight, at: float) -> str | None:
    """No water reading for longer than the owner's interval (five minutes by default)."""
    return _overdue(s, "water", at, s.engine.water_interval_s)


def pressure_overdue(s: Sight, at: float) -> str | None:
    """No pressure reading for two intervals."""
    return _overdue(s, "pressure", at, 2 * s.engine.water_interval_s)


# --- pressure ------------------------------------------------------------------------------------


def _valve_open(s: Sight) -> bool:
    return s.state("valve") == "lifting"


def over_pressure(s: Sight, at: float) -> str | None:
    """Above the lift, as closely as valves are set, with none lifting; or 6 % above with one."""
    pressure, lifts = s.number("pressure"), s.engine.valve_lifts_gauge_pa
    if pressure is None:
        return None
    limit = lifts * (ACCUMULATION if _valve_open(s) else SET_TOLERANCE)
    if pressure <= limit * (1 + GRAIN):
        return None
    valve = "with the valve lifting" if _valve_open(s) else "and no valve lifting"
    return f"{psi(pressure)}, lift {psi(lifts)}, {valve}"


def under_the_lift(s: Sight, at: float) -> bool:
    pressure = s.number("pressure")
    if pressure is None:
        return False
    band = PRESSURE_DEADBAND * s.engine.working_pressure_gauge_pa
    limit = s.engine.valve_lifts_gauge_pa - band
    coping = _valve_open(s) and pressure <= s.engine.valve_lifts_gauge_pa
    return pressure <= limit or coping


def high_and_rising(s: Sight, at: float) -> str | None:
    """Above working pressure and still rising, with the damper open."""
    now, before = s.number("pressure"), s.number("pressure", 2)
    working = s.engine.working_pressure_gauge_pa
    if now is None or before is None or s.state("damper") != "open":
        return None
    if now <= working * (1 + GRAIN) or now <= before:
        return None
    return f"{psi(before)} then {psi(now)}, working {psi(working)}, damper open"


def not_high(s: Sight, at: float) -> bool:
    now = s.number("pressure")
    working = s.engine.working_pressure_gauge_pa
    damped = s.state("damper") in ("shut", "crack")
    return now is not None and (damped or now <= working * (1 - PRESSURE_DEADBAND))


def disagree(s: Sight, at: float) -> str | None:
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


def _gauge_when(s: Sight, valve: Seen) -> float | None:
    """The gauge as read just before the valve's report, or within two minutes after it.

    Without one, what is believed at most: a belief knows no valve and may run on above it, so it
    can only tell that the valve moved too early.
    """
    close = [
        r
        for r in s.pressure
        if isinstance(r.value, float) and -BEFORE_S <= r.at - valve.at <= AFTER_S
    ]
    if close:
        return float(min(close, key=lambda r: abs(r.at - valve.at)).value)
    if s.pressure_now is None:
        return None
    return min(s.pressure_now.high, s.engine.valve_feathers_gauge_pa)


def valve_quiet(s: Sight, at: float) -> bool:
    return s.state("valve") == "shut" or (bool(s.state("valve")) and disagree(s, at) is None)


def too_fast(s: Sight, at: float) -> str | None:
    """Rising faster than the engine's limit, below half of working pressure."""
    now, before = s.number("pressure"), s.number("pressure", 2)
    working = s.engine.working_pressure_gauge_pa
    if now is None or before is None or now > 0.5 * working:
        return None
    lapse = s.pressure[-1].at - s.pressure[-2].at
    limit = s.rise_limit_pa_per_s or working / FAST_S
    if lapse < 90.0 or (now - before) / lapse <= limit:
        return None
    return f"{psi((now - before) / lapse * 60)} a minute, limit {psi(limit * 60)}"


def slow_enough(s: Sight, at: float) -> bool:
    return too_fast(s, at) is None


def falling(s: Sight, at: float) -> str | None:
    """The pressure falls while steam is raised, and neither coal nor feed explains it."""
    now, before = s.number("pressure"), s.number("pressure", 2)
    if s.phase != "raising steam" or now is None or before is None or now >= before:
        return None
    since = s.pressure[-1].at - PEAK_S
    peak = max(r.value for r in s.pressure if isinstance(r.value, float) and r.at >= since)
    if peak - now < FALLING * s.engine.working_pressure_gauge_pa or _explained(s):
        return None
    return f"{psi(peak)}, now {psi(now)} while raising steam"


def _explained(s: Sight) -> bool:
    fire, read_at = s.states.get("fire"), s.pressure[-1].at
    coal = fire is not None and fire.value == "coal" and read_at - fire.at < COALING_S
    just = [s.states[w] for w in ("feed", "bypass") if w in s.states]
    fed = s.feeding is not None or any(
        f.value in ("off", "open") and read_at - f.at < COALING_S / 2 for f in just
    )
    blowing = s.state("valve") in ("feathering", "lifting") or s.state("damper") == "shut"
    return coal or fed or blowing


def not_falling(s: Sight, at: float) -> bool:
    now, before = s.number("pressure"), s.number("pressure", 2)
    return s.phase != "raising steam" or (now is not None and before is not None and now > before)


def blower_left_on(s: Sight, at: float) -> str | None:
    """At working pressure with the blower still open."""
    now, working = s.number("pressure"), s.engine.working_pressure_gauge_pa
    if now is None or now < working * (1 - GRAIN) or s.state("blower") not in ("half", "open"):
        return None
    return f"{psi(now)}, working {psi(working)}, blower {s.state('blower')}"


def blower_off(s: Sight, at: float) -> bool:
    now, working = s.number("pressure") or 0.0, s.engine.working_pressure_gauge_pa
    return s.state("blower") in ("shut", "crack") or now <= working * (1 - PRESSURE_DEADBAND)


def gauge_dead(s: Sight, at: float) -> str | None:
    """The gauge should have moved by now, or steam was seen and the gauge read since shows none."""
    now, vent = s.number("pressure"), s.states.get("vent")
    if now is None or now > NO_PRESSURE * s.engine.working_pressure_gauge_pa:
        return None
    if vent is not None and vent.value == "steam" and s.pressure[-1].at >= vent.at + STEAM_SHOWS_S:
        return f"gauge at {psi(now)}, steam seen before that"
    if s.first_steam_by is None or at <= s.first_steam_by:
        return None
    return f"gauge at {psi(now)}, {(at - s.first_steam_by) / 60:.0f} minutes after it should move"


def gauge_moved(s: Sight, at: float) -> bool:
    return (s.number("pressure") or 0.0) > NO_PRESSURE * s.engine.working_pressure_gauge_pa


# --- the rest ------------------------------------------------------------------------------------


def far_from_plan(s: Sight, at: float) -> str | None:
    """Working pressure is expected a quarter of an hour or more away from the plan."""
    if s.plan_at is None or s.forecast_at is None:
        return None
    off = s.forecast_at - s.plan_at
    if abs(off) < max(FAR_FROM_PLAN_S, s.plan_within_s):
        return None
    return f"{abs(off) / 60:.0f} minutes {'late' if off > 0 else 'early'}"


def near_plan(s: Sight, at: float) -> bool:
    if s.plan_at is None or s.forecast_at is None:
        return s.plan_at is None  # no forecast is not a good one
    return abs(s.forecast_at - s.plan_at) <= 0.7 * max(FAR_FROM_PLAN_S, s.plan_within_s)


def left_open(s: Sight, at: float) -> str | None:
    """Steps were left open aloud."""
    return ", ".join(s.left_open) or None


def nothing_open(s: Sight, at: float) -> bool:
    return not s.left_open


def device_lost(name: str) -> Condition:
    """The device of that name does not work."""

    def lost(s: Sight, at: float) -> str | None:
        return str(s.lost[name].value) or f"{name} lost" if name in s.lost else None

    return lost


def device_back(name: str) -> Inside:
    return lambda s, at: name not in s.lost


def called(name: str) -> Condition:
    """Somebody called this emergency and nobody has called it over."""

    def call(s: Sight, at: float) -> str | None:
        over = max((e.at for e in s.emergencies if e.value == "over"), default=float("-inf"))
        calls = [e.at for e in s.emergencies if e.value == name and e.at > over]
        return f"{name}, called" if calls else None

    return call


def call_over(name: str) -> Inside:
    return lambda s, at: called(name)(s, at) is None


def not_overdue(condition: Condition) -> Inside:
    """Inside at once when the reading came: the reading itself closes the alarm."""
    return lambda s, at: s.steam_since is None or condition(s, at) is None
