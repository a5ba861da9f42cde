"""Alarm conditions for the water in the glass, its tank, and what its movement tells. Pure.

The level is that of the picture, with its doubt; feeds and lost water have modules of their own.
"""

from __future__ import annotations

import math
from itertools import pairwise

from assistant.alarms.condition import GRAIN, LEVEL_DEADBAND, told_unread
from assistant.alarms.inputs import AlarmInputs, TimedValue
from assistant.picture.let_out import SUBJECT as BLOW_DOWN
from assistant.picture.part import ago
from assistant.picture.picture import Picture

NEAR_UPPER = 0.02
NEAR_LOWER = 0.13  # of the glass, above the mark: the next eighth
FULL_GLASS = 0.97
TANK_EMPTY = 0.05
GREAT_FALL = 0.25  # of the glass between two calls: one is enough. Judgement
LEFT_ALONE = 2.0  # intervals without a reading
BLOWS_DOWN_S = 60.0  # so long a blow-down may be open over a fire unremarked. Judgement
FALLS_RUNNING = 2  # falls one after another before a loss is believed: one may be the calling
DEAD_GAUGE_S = 180.0  # from water as high as at boiling to a gauge that should show it. Judgement
PROVED = frozenset({"proved cold", "proved hot"})
UNREAD = frozenset({"unproved", "glass broken"})  # no level is read from such a glass
EXPANDED = "glass expanded as at boiling"  # the picture's witness for steam


def hot(picture: Picture) -> bool:
    """Whether there is fire or steam, which makes low water a danger and not a task."""
    return picture.fire.heat or picture.steam.value == "steam"


def level_over_heat(inputs: AlarmInputs) -> float | None:
    """The level last called [of the glass], where it is one and there is heat; else None."""
    seen = inputs.picture
    if seen is None or not hot(seen) or not seen.water.readable:
        return None
    return seen.water.level


def falls(inputs: AlarmInputs) -> float:
    """By how much the last level is below the one before it [of the glass]; 0 where it is not, or
    where the one before was read in a glass found false since.
    """
    now, before = inputs.number("water"), inputs.number("water", 2)
    reads_from = None if inputs.picture is None else inputs.picture.glass.reads_from
    if before is not None and reads_from is not None and inputs.water[-2].at < reads_from:
        return 0.0
    return 0.0 if now is None or before is None else max(before - now, 0.0)


def low_water(inputs: AlarmInputs, at: float) -> str | None:
    """The level is in sight, at or below the lower mark, with fire or steam."""
    level, mark = level_over_heat(inputs), inputs.engine.glass.lower_mark
    if level is None or level > mark + GRAIN:
        return None
    return f"water {level:.2f} of the glass, lower mark {mark:.2f}"


def low_water_over(inputs: AlarmInputs, at: float) -> bool:
    """It was called well above the mark, and nothing says that it is no level."""
    water = inputs.number("water")
    if inputs.picture is not None and inputs.picture.no_level:
        return False
    return water is not None and water >= inputs.engine.glass.lower_mark + LEVEL_DEADBAND - GRAIN


def proved_since_low(inputs: AlarmInputs, at: float) -> bool:
    """The glass was blown through and came back after the last low level, and was called since."""
    seen, mark = inputs.picture, inputs.engine.glass.lower_mark + GRAIN
    if seen is None or seen.glass.since is None or seen.glass.value not in PROVED:
        return False
    low = [r.at for r in inputs.water if isinstance(r.value, str) or r.value <= mark]
    return max(low, default=at) < seen.glass.since < inputs.water[-1].at


def level_unreadable(inputs: AlarmInputs, at: float) -> bool:
    """Whether the water is out of sight or doubted: that is another danger."""
    return inputs.picture is not None and not inputs.picture.water.readable


def perhaps_low(inputs: AlarmInputs, at: float) -> str | None:
    """By belief the water has come down to the lower mark since the last reading."""
    level, mark = level_over_heat(inputs), inputs.engine.glass.lower_mark
    if inputs.water_now is None or level is None or level <= mark + GRAIN:
        return None
    if inputs.water_now > mark:
        return None
    return f"water believed at {inputs.water_now:.2f} by now, lower mark {mark:.2f}"


def told_low(inputs: AlarmInputs, at: float) -> str | None:
    """Over heat the water was told to be going down, in words, and no level was called since."""
    told, seen = told_unread(inputs, "water", "going down"), inputs.picture
    if told is None or seen is None or not hot(seen):
        return None
    return f"the water was told to be going down, {ago(at - told.at)}"


def flat(inputs: AlarmInputs, at: float) -> str | None:
    """Three readings stood still while feed, heat or steam taken should have moved them."""
    seen = inputs.picture
    if seen is None or not hot(seen) or seen.glass.value != "flat" or inputs.dead_at_rest:
        return None
    return "; ".join(seen.glass.witnesses)


def not_flat(inputs: AlarmInputs, at: float) -> bool:
    """It moved by a calling step, was blown through or has failed its test, or there is no heat."""
    seen = inputs.picture
    if inputs.dead_at_rest:
        return True
    if seen is None or seen.glass.value == "flat":
        return False
    return not seen.glass.stands or seen.water.value in UNREAD or not hot(seen)


def lost_unexplained(inputs: AlarmInputs, at: float) -> str | None:
    """Two falls running, or a great one, by more than steam explains; or two looks that show more
    than steam can take at most. With no feed on; two falls running with none that failed.
    """
    seen, levels = inputs.picture, [r.value for r in _watched(inputs)[-FALLS_RUNNING - 1 :]]
    if seen is None or not hot(seen) or _cools_at_rest(inputs) or seen.glass.risen:
        return None
    if seen.loss is not None and seen.feeds.running_since is None:
        lost = seen.loss
        return f"water {lost.before:.2f} to {lost.level:.2f}, steam takes {lost.most_used:.2f}"
    if inputs.water_cause != "loss":
        return None
    numbers = [value for value in levels if isinstance(value, float)]
    falling = all(later < before - GRAIN for before, later in pairwise(numbers))
    great = len(levels) > 1 and falls(inputs) >= GREAT_FALL - GRAIN
    if not great and (len(numbers) <= FALLS_RUNNING or not falling):
        return None
    if seen.feeds.running_since is not None or (seen.feeds.values("failed") and not great):
        return None
    return "water " + ", ".join(f"{value:.2f}" for value in numbers) + ": more than steam takes"


def _cools_at_rest(inputs: AlarmInputs) -> bool:
    """Whether the fire is out and the gauge falls or is at rest: the water shrinks. A loss that is
    more than that is shown by the picture.
    """
    seen = inputs.picture
    if seen is None or not seen.fire.out:
        return False
    now, before = inputs.number("pressure"), inputs.number("pressure", 2)
    falls = now is not None and before is not None and now < before and seen.loss is None
    return inputs.gauge_at_rest or falls


def _watched(inputs: AlarmInputs) -> tuple[TimedValue, ...]:
    """The levels called since the glass was last left alone, for the valve may have blown then, and
    since it was proved after a doubt.
    """
    called, seen = inputs.water, inputs.picture
    if seen is not None:
        from_s = max(seen.glass.compares_from, seen.compares_from)
        called = tuple(reading for reading in called if reading.at > from_s)
    if seen is None or seen.water.interval_s is None:
        return called
    alone_s = LEFT_ALONE * seen.water.interval_s
    gaps = [
        place for place, (before, after) in enumerate(pairwise(called), start=1)
        if after.at - before.at > alone_s
    ]  # fmt: skip
    return called[gaps[-1] :] if gaps else called


def no_longer_lost(inputs: AlarmInputs, at: float) -> bool:
    """Nothing shows a loss any more, or the last level was higher than the one before."""
    now, before = inputs.number("water"), inputs.number("water", 2)
    if now is not None and before is not None and now >= before + LEVEL_DEADBAND - GRAIN:
        return True
    shown = inputs.picture is not None and inputs.picture.loss is not None
    return inputs.water_cause != "loss" and not shown


def blow_down_open(inputs: AlarmInputs, at: float) -> str | None:
    """The blow-down was told open a minute ago, and not shut since, over a fire."""
    if at < blow_down_open_at(inputs):
        return None
    return "the blow-down was told open, and not shut"


def blow_down_open_at(inputs: AlarmInputs) -> float:
    """From when it is so, if nothing more is reported [s]; infinity: it is not."""
    seen, told = inputs.picture, inputs.states.get(BLOW_DOWN)
    if seen is None or told is None or told.value != "open" or not seen.fire.burning:
        return math.inf
    return told.at + BLOWS_DOWN_S


def steam_unseen_by_gauge(inputs: AlarmInputs, at: float) -> str | None:
    """The glass has risen as far as boiling lifts it, unfed, and the gauge was called at rest."""
    seen = inputs.picture
    if seen is None or seen.steam.value != "steam" or not seen.fire.burning or seen.gauge.moved:
        return None
    risen = any(witness.startswith(EXPANDED) for witness in seen.steam.witnesses)
    if not risen or seen.gauge.age_s is None or seen.steam.since is None:
        return None
    if at - seen.gauge.age_s < seen.steam.since + DEAD_GAUGE_S:
        return None  # at boiling the gauge still rests
    return "; ".join((*seen.steam.witnesses, *seen.gauge.witnesses))


def gauge_sees_steam(inputs: AlarmInputs, at: float) -> bool:
    seen = inputs.picture
    return seen is not None and (seen.gauge.moved or seen.steam.value != "steam")


def near_lower(inputs: AlarmInputs, at: float) -> str | None:
    """Falling, within an eighth of the glass above the lower mark, and no feed that gains."""
    level, mark = level_over_heat(inputs), inputs.engine.glass.lower_mark
    if level is None or _fed(inputs) or falls(inputs) < LEVEL_DEADBAND or _no_feed(inputs):
        return None
    if not mark + GRAIN < level <= mark + NEAR_LOWER:
        return None
    before = inputs.number("water", 2)
    return f"water {before:.2f} then {level:.2f}, lower mark {mark:.2f}, no feed that gains"


def over_lower(inputs: AlarmInputs, at: float) -> bool:
    water, before = inputs.number("water"), inputs.number("water", 2)
    if water is None or before is None:
        return False
    limit = inputs.engine.glass.lower_mark + NEAR_LOWER + LEVEL_DEADBAND
    rises = water >= before + LEVEL_DEADBAND - GRAIN
    return _fed(inputs) or rises or water >= limit - GRAIN


def _fed(inputs: AlarmInputs) -> bool:
    """Whether a feed is on that was not shown to give no gain, nor said to."""
    feeds = inputs.picture.feeds.by_name.values() if inputs.picture is not None else ()
    return any(feed.running_since is not None and feed.value != "failed" for feed in feeds)


def _no_feed(inputs: AlarmInputs) -> bool:
    """Whether "feed now" is no help, for no feed works; or not to be said, for no glass is read."""
    seen = inputs.picture
    if seen is None:
        return False
    dry = tank_empty(inputs, seen.at) is not None
    return dry or seen.feeds.none_works or seen.water.value in UNREAD


def unread(inputs: AlarmInputs, at: float) -> bool:
    """Whether what was called last is no level: the glass is unproved, or was proved since."""
    return inputs.picture is not None and inputs.picture.water.value in UNREAD


def no_level_is_high(inputs: AlarmInputs, at: float) -> bool:
    """Whether out of sight, doubted, or an unproved glass has taken the place of a high level."""
    return level_unreadable(inputs, at) or unread(inputs, at)


def at_or_below_the_mark(inputs: AlarmInputs, at: float) -> bool:
    """Whether the danger of low water has taken its place."""
    return low_water(inputs, at) is not None or level_unreadable(inputs, at)


def graver_than_near(inputs: AlarmInputs, at: float) -> bool:
    """Whether low water, or that no feed works, has taken the place of the caution."""
    return at_or_below_the_mark(inputs, at) or _no_feed(inputs)


def glass_full(inputs: AlarmInputs, at: float) -> str | None:
    """The water is at the very top of the glass, over heat; of an unproved glass others speak."""
    level = level_over_heat(inputs)
    if level is None or level < FULL_GLASS or unread(inputs, at):
        return None
    return f"water {level:.2f} of the glass"


def glass_not_full(inputs: AlarmInputs, at: float) -> bool:
    water = inputs.number("water")
    return water is not None and water <= FULL_GLASS - LEVEL_DEADBAND + GRAIN


def near_upper(inputs: AlarmInputs, at: float) -> str | None:
    """Near or above the upper mark, with fire or steam; not when putting away, which fills it."""
    level, mark = level_over_heat(inputs), inputs.engine.glass.upper_mark
    if level is None or inputs.phase == "putting away" or level < mark - NEAR_UPPER - GRAIN:
        return None
    if unread(inputs, at):
        return None
    return f"water {level:.2f} of the glass, upper mark {mark:.2f}"


def under_upper(inputs: AlarmInputs, at: float) -> bool:
    water = inputs.number("water")
    limit = inputs.engine.glass.upper_mark - NEAR_UPPER - LEVEL_DEADBAND
    return water is not None and water <= limit + GRAIN


def tank_empty(inputs: AlarmInputs, at: float) -> str | None:
    """Too little is left to pump."""
    tank = inputs.number("tank")
    return f"tank {tank:.2f}" if tank is not None and tank <= TANK_EMPTY + GRAIN else None


def tank_filled(inputs: AlarmInputs, at: float) -> bool:
    tank = inputs.number("tank")
    return tank is not None and tank >= TANK_EMPTY + LEVEL_DEADBAND - GRAIN
