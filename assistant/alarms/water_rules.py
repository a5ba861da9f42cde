"""When the water, its glass, its feed or its tank raises an alarm. Pure; no words for the ear."""

from __future__ import annotations

from assistant.alarms.condition import GRAIN, LEVEL_DEADBAND
from assistant.alarms.inputs import AlarmInputs
from assistant.messages import OUT_OF_SIGHT

FEED_TELLS_S = 60.0  # a glass needs this long to show a feed. Judgement
FALL_WITH_FEED = 0.02  # of the glass, twice what a reading can be out. Judgement
_MOVES = 0.2  # of the glass: clearly more than the eighth that it is called in. Judgement
STILL = 0.01
NEAR_UPPER = 0.02
NEAR_LOWER = 0.13  # of the glass: the next eighth above the mark
FULL_GLASS = 0.97
TANK_EMPTY = 0.05


def low_water(s: AlarmInputs, at: float) -> str | None:
    """The last reading is at or below the lower mark, with fire or steam."""
    water = s.number("water")
    mark = s.engine.glass.lower_mark
    if water is None or not s.hot or water > mark + GRAIN:
        return None
    return f"water {water:.2f} of the glass, lower mark {mark:.2f}"


def low_water_over(s: AlarmInputs, at: float) -> bool:
    water = s.number("water")
    return water is not None and water >= s.engine.glass.lower_mark + LEVEL_DEADBAND - GRAIN


def no_water_in_sight(s: AlarmInputs, at: float) -> str | None:
    """No water in sight, with fire or steam."""
    last = s.last("water")
    gone = last is not None and last.value == OUT_OF_SIGHT and s.hot
    return "no water in sight" if gone else None


def perhaps_low(s: AlarmInputs, at: float) -> str | None:
    """Nobody has read it since, but it is believed to be at the lower mark by now."""
    mark, last = s.engine.glass.lower_mark, s.number("water")
    if s.water_now is None or not s.hot or last is None or last <= mark + GRAIN:
        return None
    if s.water_now > mark:
        return None
    return f"water believed at {s.water_now:.2f} by now, lower mark {mark:.2f}"


def not_low_by_belief(s: AlarmInputs, at: float) -> bool:
    return perhaps_low(s, at) is None


def falling_with_feed(s: AlarmInputs, at: float) -> str | None:
    """A reading taken with the feed on stands clearly below the one before."""
    now, before = s.number("water"), s.number("water", 2)
    if now is None or before is None or s.feeding is None:
        return None
    feed_at, read_at, earlier_at = s.feeding.at, s.water[-1].at, s.water[-2].at
    if read_at < feed_at + FEED_TELLS_S or earlier_at < feed_at - 2 * FEED_TELLS_S:
        return None
    if before - now < FALL_WITH_FEED - GRAIN or _steam_taken(s, earlier_at):
        return None
    return f"water {before:.2f} then {now:.2f} with the feed on"


def _steam_taken(s: AlarmInputs, since: float) -> bool:
    """The valve blew, or the regulator was opened: the glass swells and falls back by itself."""
    valve, regulator = s.states.get("valve"), s.states.get("regulator")
    blew = valve is not None and valve.value != "feathering" and valve.at >= since
    drawn = regulator is not None and regulator.value == "open" and regulator.at >= since
    return blew or drawn


def rising_or_unfed(s: AlarmInputs, at: float) -> bool:
    now, before = s.number("water"), s.number("water", 2)
    return s.feeding is None or (now is not None and before is not None and now > before)


def motionless(s: AlarmInputs, at: float) -> str | None:
    """In steam, the glass should have moved clearly since it first stood here, and has not."""
    now, before = s.number("water"), s.number("water", 2)
    if now is None or before is None or s.glass_moves is None or s.steam_since is None:
        return None
    if abs(s.glass_moves) < _MOVES or abs(now - before) >= STILL:
        return None
    return f"glass still at {now:.2f}; it should have moved by {s.glass_moves:+.2f}"


def moving(s: AlarmInputs, at: float) -> bool:
    now, before = s.number("water"), s.number("water", 2)
    return now is not None and before is not None and abs(now - before) >= STILL


def near_lower(s: AlarmInputs, at: float) -> str | None:
    """Falling, no further above the lower mark than an eighth of the glass, and nothing fed."""
    water, before = s.number("water"), s.number("water", 2)
    mark = s.engine.glass.lower_mark
    if water is None or before is None or not s.hot or s.feeding is not None:
        return None
    if not mark + GRAIN < water <= mark + NEAR_LOWER or before - water < LEVEL_DEADBAND:
        return None
    return f"water {before:.2f} then {water:.2f}, lower mark {mark:.2f}, no feed on"


def over_lower(s: AlarmInputs, at: float) -> bool:
    water, before = s.number("water"), s.number("water", 2)
    if water is None or before is None:
        return False
    limit = s.engine.glass.lower_mark + NEAR_LOWER + LEVEL_DEADBAND
    rises = water >= before + LEVEL_DEADBAND - GRAIN
    return s.feeding is not None or rises or water >= limit - GRAIN


def glass_full(s: AlarmInputs, at: float) -> str | None:
    """The surface cannot be seen for too much water."""
    water = s.number("water")
    full = water is not None and s.hot and water >= FULL_GLASS
    return f"water {water:.2f} of the glass" if full else None


def near_upper(s: AlarmInputs, at: float) -> str | None:
    """Near the upper mark or above it, with fire or steam; putting away, it is filled to there."""
    water, mark = s.number("water"), s.engine.glass.upper_mark
    if water is None or not s.hot or s.phase == "putting away" or water < mark - NEAR_UPPER - GRAIN:
        return None
    return f"water {water:.2f} of the glass, upper mark {mark:.2f}"


def under_upper(s: AlarmInputs, at: float) -> bool:
    water = s.number("water")
    limit = s.engine.glass.upper_mark - NEAR_UPPER - LEVEL_DEADBAND
    return water is not None and water <= limit + GRAIN


def glass_not_full(s: AlarmInputs, at: float) -> bool:
    water = s.number("water")
    return water is not None and water <= FULL_GLASS - LEVEL_DEADBAND + GRAIN


def tank_empty(s: AlarmInputs, at: float) -> str | None:
    """Nothing worth pumping is left."""
    tank = s.number("tank")
    return f"tank {tank:.2f}" if tank is not None and tank <= TANK_EMPTY + GRAIN else None


def tank_filled(s: AlarmInputs, at: float) -> bool:
    tank = s.number("tank")
    return tank is not None and tank >= TANK_EMPTY + LEVEL_DEADBAND - GRAIN
