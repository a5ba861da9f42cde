"""Alarm conditions for water that nobody has read for too long, or at all. Pure.

How often it is to be read, and from when that counts, are the picture's.
"""

from __future__ import annotations

import math

from assistant.alarms.condition import GRAIN
from assistant.alarms.inputs import AlarmInputs
from assistant.alarms.water_rules import blow_down_open_at
from assistant.picture.fire import IN
from assistant.picture.heat import MOVING
from assistant.picture.loss import boiled_per_s

LOOK_WITHIN_S = 180.0  # from a fire that was reported to a look at the glass. Judgement
ASKED_S = 60.0  # from the warning to a danger that is only possible: time to answer. Judgement
WARNED, ENDANGERED = 1.0, 2.0  # intervals without a reading
NEAR_VALVE = 0.9  # of where the valve moves: it may by now. Judgement
WATER_KG_PER_M3 = 900.0  # in steam, near 100 psi (IF97), rounded down: it fills more of the glass


def overdue(inputs: AlarmInputs, at: float) -> str | None:
    """No water reading for longer than its interval."""
    return _unread(inputs, at, _due_at(inputs, WARNED))


def read_again(inputs: AlarmInputs, at: float) -> bool:
    """It was read within its interval, or none is awaited: the moment that steam gives to call it
    ends nothing that stands.
    """
    water = None if inputs.picture is None else inputs.picture.water
    if water is None or water.interval_s is None or water.awaited_since is None:
        return overdue(inputs, at) is None
    return water.age_s is not None and water.age_s <= water.interval_s


def overdue_at(inputs: AlarmInputs) -> float:
    return _due_at(inputs, WARNED)


def not_read(inputs: AlarmInputs, at: float) -> str | None:
    """No water reading for two intervals; or for one, and the water would be at the lower mark as
    it last fell, or a minute later might be with all the steam of a full fire or through a
    blow-down that stands open: nobody is known to watch it.
    """
    return _unread(inputs, at, not_read_at(inputs))


def not_read_at(inputs: AlarmInputs) -> float:
    warned_at = _due_at(inputs, WARNED)
    might_be_at = max(_used_up_at(inputs), warned_at + ASKED_S)
    later = min(_due_at(inputs, ENDANGERED), _at_lower_mark_at(inputs), might_be_at)
    return max(warned_at, later)


def _used_up_at(inputs: AlarmInputs) -> float:
    """When a full fire could have boiled it down to the lower mark since the last call [s], or the
    blow-down was told open over one.

    Never where the file tells no rate of the fire, or nothing leaves but what leaks.
    """
    if not math.isinf(opened_at := blow_down_open_at(inputs)):
        return opened_at
    level, engine = inputs.number("water"), inputs.engine
    if level is None or not engine.fire_rate_w or not _steam_leaves(inputs):
        return math.inf
    above = max(level - engine.glass.lower_mark, 0.0)
    return inputs.water[-1].at + above / boiled_per_s(engine, WATER_KG_PER_M3)


def _at_lower_mark_at(inputs: AlarmInputs) -> float:
    """When it is at the lower mark if it goes on as it fell between the last two calls [s]."""
    if len(inputs.water) < 2:
        return math.inf
    before, last = inputs.water[-2:]
    if isinstance(before.value, str) or isinstance(last.value, str):
        return math.inf
    fall = before.value - last.value
    if fall <= GRAIN or last.at <= before.at:
        return math.inf
    above = last.value - inputs.engine.glass.lower_mark
    return last.at + above * (last.at - before.at) / fall


def _unread(inputs: AlarmInputs, at: float, due_at: float) -> str | None:
    if at <= due_at:
        return None
    since = inputs.picture.water.awaited_since if inputs.picture is not None else None
    return None if since is None else f"no water reading for {(at - since) / 60:.0f} minutes"


def _due_at(inputs: AlarmInputs, intervals: float) -> float:
    """When the last reading is so many intervals old [s]."""
    seen = inputs.picture
    if seen is None or seen.water.awaited_since is None or seen.water.interval_s is None:
        return math.inf
    return seen.water.awaited_since + intervals * seen.water.interval_s


def fire_without_water(inputs: AlarmInputs, at: float) -> str | None:
    """There is a fire, and the water was never called."""
    seen = inputs.picture
    if seen is None or seen.fire.value not in IN or inputs.water:
        return None
    return f"fire {seen.fire.value}, and no water called"


def fire_long_without_water(inputs: AlarmInputs, at: float) -> str | None:
    """The same, for longer than it takes to look."""
    return fire_without_water(inputs, at) if at >= fire_long_without_water_at(inputs) else None


def fire_long_without_water_at(inputs: AlarmInputs) -> float:
    seen = inputs.picture
    since = None if seen is None or inputs.water else seen.fire.since
    return math.inf if since is None else since + LOOK_WITHIN_S


def _steam_leaves(inputs: AlarmInputs) -> bool:
    """The engine works, or the valve moves or was called near doing so, with a fire in."""
    seen, gauge = inputs.picture, inputs.number("pressure") or 0.0
    if seen is None or not seen.fire.burning:
        return False
    near = gauge >= NEAR_VALVE * inputs.engine.valve_moves_gauge_pa
    return near or seen.valve.value in MOVING or inputs.state("regulator") == "open"


def level_unknown(inputs: AlarmInputs, at: float) -> str | None:
    """Over heat, the glass has failed its test twice, or for two intervals: it shows no level."""
    if at < level_unknown_at(inputs) or inputs.picture is None:
        return None
    return "; ".join(inputs.picture.glass.witnesses)


def level_unknown_at(inputs: AlarmInputs) -> float:
    seen = inputs.picture
    if seen is None or seen.water.interval_s is None or seen.water.value != "unproved":
        return math.inf
    if seen.glass.emptied_at is not None:
        return math.inf  # a danger since then
    since, again_at = seen.glass.since, seen.glass.failed_again_at
    if since is None:
        return math.inf
    long_at = since + ENDANGERED * seen.water.interval_s
    return long_at if again_at is None else min(long_at, again_at)
