"""Alarm conditions for the water, its glass, its feed and its tank. Pure."""

from __future__ import annotations

import math

from assistant.alarms.condition import GRAIN, LEVEL_DEADBAND
from assistant.alarms.inputs import AlarmInputs
from assistant.messages import OUT_OF_SIGHT
from assistant.picture.fire import BURNING

LOOK_WITHIN_S = 180.0  # from a fire that was reported to a look at the glass. Judgement
FEED_SHOWS_S = 60.0  # the glass needs this long to show a feed. Judgement
FALL_WITH_FEED = 0.02  # of the glass, twice the error of a reading. Judgement
CLEAR_MOVE = 0.2  # of the glass: clearly more than the eighths it is called in. Judgement
STILL = 0.01
NEAR_UPPER = 0.02
NEAR_LOWER = 0.13  # of the glass, above the mark: the next eighth
FULL_GLASS = 0.97
TANK_EMPTY = 0.05


def low_water(inputs: AlarmInputs, at: float) -> str | None:
    """The last reading is at or below the lower mark, with fire or steam."""
    water = inputs.number("water")
    mark = inputs.engine.glass.lower_mark
    if water is None or not inputs.hot or water > mark + GRAIN:
        return None
    return f"water {water:.2f} of the glass, lower mark {mark:.2f}"


def low_water_over(inputs: AlarmInputs, at: float) -> bool:
    water = inputs.number("water")
    return water is not None and water >= inputs.engine.glass.lower_mark + LEVEL_DEADBAND - GRAIN


def no_water_in_sight(inputs: AlarmInputs, at: float) -> str | None:
    """No water in sight, with fire or steam."""
    last = inputs.last("water")
    gone = last is not None and last.value == OUT_OF_SIGHT and inputs.hot
    return "no water in sight" if gone else None


def perhaps_low(inputs: AlarmInputs, at: float) -> str | None:
    """By belief the water has come down to the lower mark since the last reading."""
    mark, last = inputs.engine.glass.lower_mark, inputs.number("water")
    if inputs.water_now is None or not inputs.hot or last is None or last <= mark + GRAIN:
        return None
    if inputs.water_now > mark:
        return None
    return f"water believed at {inputs.water_now:.2f} by now, lower mark {mark:.2f}"


def not_low_by_belief(inputs: AlarmInputs, at: float) -> bool:
    return perhaps_low(inputs, at) is None


def fire_without_water(inputs: AlarmInputs, at: float) -> str | None:
    """There is a fire, and the water was never called."""
    if inputs.state("fire") not in BURNING or inputs.water:
        return None
    return f"fire {inputs.state('fire')}, and no water called"


def fire_long_without_water(inputs: AlarmInputs, at: float) -> str | None:
    """The same, for longer than it takes to look."""
    return fire_without_water(inputs, at) if at >= fire_long_without_water_at(inputs) else None


def fire_long_without_water_at(inputs: AlarmInputs) -> float:
    fire = inputs.states.get("fire")
    return fire.at + LOOK_WITHIN_S if fire is not None and not inputs.water else math.inf


def water_was_called(inputs: AlarmInputs, at: float) -> bool:
    return fire_without_water(inputs, at) is None


def fed_unseen(inputs: AlarmInputs, at: float) -> str | None:
    """A feed was put on while nobody knows whether the plates were bare."""
    feed = inputs.feeding
    if inputs.lost_since is None or feed is None or feed.at < inputs.lost_since:
        return None
    return "feed on after the water was lost, and the boiler not looked at"


def not_fed_unseen(inputs: AlarmInputs, at: float) -> bool:
    return fed_unseen(inputs, at) is None


def fired_unseen(inputs: AlarmInputs, at: float) -> str | None:
    """A new fire after the water was lost."""
    fire = inputs.states.get("fire")
    if inputs.lost_since is None or fire is None or fire.at <= inputs.lost_since:
        return None
    made = fire.value in ("lit", "built", "coal")
    return f"fire {fire.value} after the water was lost" if made else None


def not_fired_unseen(inputs: AlarmInputs, at: float) -> bool:
    return fired_unseen(inputs, at) is None


def falling_with_feed(inputs: AlarmInputs, at: float) -> str | None:
    """A reading with the feed on is clearly below the one before."""
    now, before = inputs.number("water"), inputs.number("water", 2)
    if now is None or before is None or inputs.feeding is None:
        return None
    feed_at, read_at, earlier_at = inputs.feeding.at, inputs.water[-1].at, inputs.water[-2].at
    if read_at < feed_at + FEED_SHOWS_S or earlier_at < feed_at - 2 * FEED_SHOWS_S:
        return None
    if before - now < FALL_WITH_FEED - GRAIN or _steam_taken(inputs, earlier_at):
        return None
    return f"water {before:.2f} then {now:.2f} with the feed on"


def _steam_taken(inputs: AlarmInputs, since: float) -> bool:
    """The valve blew or the regulator was opened, after which the level swells and falls back."""
    valve, regulator = inputs.states.get("valve"), inputs.states.get("regulator")
    blew = valve is not None and valve.value != "feathering" and valve.at >= since
    drawn = regulator is not None and regulator.value == "open" and regulator.at >= since
    return blew or drawn


def rising_or_unfed(inputs: AlarmInputs, at: float) -> bool:
    now, before = inputs.number("water"), inputs.number("water", 2)
    return inputs.feeding is None or (now is not None and before is not None and now > before)


def motionless(inputs: AlarmInputs, at: float) -> str | None:
    """In steam, the level should have moved clearly since it was first read, and has not."""
    now, before = inputs.number("water"), inputs.number("water", 2)
    if now is None or before is None or inputs.glass_moves is None or inputs.steam_since is None:
        return None
    if abs(inputs.glass_moves) < CLEAR_MOVE or abs(now - before) >= STILL:
        return None
    return f"glass still at {now:.2f}; it should have moved by {inputs.glass_moves:+.2f}"


def moving(inputs: AlarmInputs, at: float) -> bool:
    now, before = inputs.number("water"), inputs.number("water", 2)
    return now is not None and before is not None and abs(now - before) >= STILL


def near_lower(inputs: AlarmInputs, at: float) -> str | None:
    """Falling, within an eighth of the glass above the lower mark, with no feed on."""
    water, before = inputs.number("water"), inputs.number("water", 2)
    mark = inputs.engine.glass.lower_mark
    if water is None or before is None or not inputs.hot or inputs.feeding is not None:
        return None
    if not mark + GRAIN < water <= mark + NEAR_LOWER or before - water < LEVEL_DEADBAND:
        return None
    return f"water {before:.2f} then {water:.2f}, lower mark {mark:.2f}, no feed on"


def over_lower(inputs: AlarmInputs, at: float) -> bool:
    water, before = inputs.number("water"), inputs.number("water", 2)
    if water is None or before is None:
        return False
    limit = inputs.engine.glass.lower_mark + NEAR_LOWER + LEVEL_DEADBAND
    rises = water >= before + LEVEL_DEADBAND - GRAIN
    return inputs.feeding is not None or rises or water >= limit - GRAIN


def glass_full(inputs: AlarmInputs, at: float) -> str | None:
    """The water is at the very top of the glass, with fire or steam."""
    water = inputs.number("water")
    full = water is not None and inputs.hot and water >= FULL_GLASS
    return f"water {water:.2f} of the glass" if full else None


def near_upper(inputs: AlarmInputs, at: float) -> str | None:
    """Near or above the upper mark, with fire or steam; not when putting away, which fills it."""
    water, mark = inputs.number("water"), inputs.engine.glass.upper_mark
    if (
        water is None
        or not inputs.hot
        or inputs.phase == "putting away"
        or water < mark - NEAR_UPPER - GRAIN
    ):
        return None
    return f"water {water:.2f} of the glass, upper mark {mark:.2f}"


def under_upper(inputs: AlarmInputs, at: float) -> bool:
    water = inputs.number("water")
    limit = inputs.engine.glass.upper_mark - NEAR_UPPER - LEVEL_DEADBAND
    return water is not None and water <= limit + GRAIN


def glass_not_full(inputs: AlarmInputs, at: float) -> bool:
    water = inputs.number("water")
    return water is not None and water <= FULL_GLASS - LEVEL_DEADBAND + GRAIN


def tank_empty(inputs: AlarmInputs, at: float) -> str | None:
    """Too little is left to pump."""
    tank = inputs.number("tank")
    return f"tank {tank:.2f}" if tank is not None and tank <= TANK_EMPTY + GRAIN else None


def tank_filled(inputs: AlarmInputs, at: float) -> bool:
    tank = inputs.number("tank")
    return tank is not None and tank >= TANK_EMPTY + LEVEL_DEADBAND - GRAIN
