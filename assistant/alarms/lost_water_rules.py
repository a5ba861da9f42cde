"""Alarm conditions for water out of sight, doubted, or lost, and for a boiler that let go: what
must not be done then. Pure.
"""

from __future__ import annotations

import math
from dataclasses import replace

from assistant.alarms.inputs import AlarmInputs
from assistant.alarms.other_rules import emergency_called, valve_moved_at
from assistant.alarms.pressure_rules import under_the_lift
from assistant.alarms.water_rules import UNREAD, hot
from assistant.picture.glass import BROKEN
from assistant.picture.lost_water import (
    FAILED_AT_LIFT,
    FAILURES,
    LEAKS,
    MADE,
    STUCK,
    WATER_LOST,
    WEEPS,
    Lost,
)
from assistant.picture.part import ago
from assistant.picture.picture import Picture

STOPPED_WITHIN_S = 60.0  # a feed that was on when the water was lost is stopped by then. Judgement


def no_water_in_sight(inputs: AlarmInputs, at: float) -> str | None:
    """No water in sight, with fire or steam."""
    seen = inputs.picture
    gone = seen is not None and seen.water.out_of_sight and hot(seen)
    return "no water in sight" if gone else None


def water_in_sight(inputs: AlarmInputs, at: float) -> bool:
    """Whether a level was called that nothing speaks against."""
    return inputs.picture is not None and inputs.picture.water.readable


def shows_again(inputs: AlarmInputs, at: float) -> bool:
    """Whether it came back after it was lost: a doubted level is another danger."""
    return inputs.picture is not None and inputs.picture.water.doubted


def doubted(inputs: AlarmInputs, at: float) -> str | None:
    """Water shows after it was out of sight over heat; glass not blown through, or not agreed."""
    seen = inputs.picture
    if seen is None or not seen.water.doubted or not hot(seen):
        return None
    return "; ".join(seen.water.witnesses)


def not_doubted(inputs: AlarmInputs, at: float) -> bool:
    return inputs.picture is not None and not inputs.picture.water.doubted


def lost_again(inputs: AlarmInputs, at: float) -> bool:
    return inputs.picture is not None and not inputs.picture.water.readable


def not_to_be_steamed(inputs: AlarmInputs, at: float) -> str | None:
    """Water was lost over heat and shows again undoubted, the boiler let go and that is called
    over, or the valve failed at its lift; and nobody has looked at her.
    """
    lost = _lost(inputs)
    if lost is None or worse_than_not_to_be_steamed(inputs, at) or _leaks(inputs, at):
        return None
    by = "water out of sight" if lost.by == WATER_LOST else lost.by  # it may be in sight now
    return f"{by} {(at - lost.at) / 60.0:.0f} minutes ago, not looked at since"


def heated_unfit(inputs: AlarmInputs, at: float) -> str | None:
    """Heat is in a boiler that is not to be steamed: from before, or by what is told since."""
    seen, lost = inputs.picture, _lost(inputs)
    if seen is None or lost is None or lost.by in (WEEPS, LEAKS) or seen.heat_stopped:
        return None
    if worse_than_not_to_be_steamed(inputs, at) or not (seen.fire.burning or seen.fire.asks_fire):
        return None
    return f"fire {seen.fire.value} after {lost.by}, not looked at"


def weeping(inputs: AlarmInputs, at: float) -> str | None:
    """The firebox weeps over a fire, or over steam of which nobody told that the fire is out."""
    return _lets_water_out(inputs, at, WEEPS)


def leaking(inputs: AlarmInputs, at: float) -> str | None:
    """The same of a door, a plug or a joint of the boiler under steam."""
    return _lets_water_out(inputs, at, LEAKS)


def _lets_water_out(inputs: AlarmInputs, at: float, by: str) -> str | None:
    seen, lost = inputs.picture, _lost(inputs)
    if seen is None or lost is None or lost.by != by or seen.fire.out or not hot(seen):
        return None
    return f"{by} {(at - lost.at) / 60.0:.0f} minutes ago, not looked at since"


def _leaks(inputs: AlarmInputs, at: float) -> bool:
    return bool(weeping(inputs, at) or leaking(inputs, at))


def worse_than_not_to_be_steamed(inputs: AlarmInputs, at: float) -> bool:
    """Whether the water is out of sight or doubted, what let go is still called, or the pressure
    is over the lift of a valve that failed.
    """
    called = any(emergency_called(n)(inputs, at) for n in FAILURES)
    return lost_again(inputs, at) or called or _valve_fails(inputs, at)


def _valve_fails(inputs: AlarmInputs, at: float) -> bool:
    """Whether a valve that failed is still called stuck, or one of two readings is at the lift."""
    lost = _lost(inputs)
    if lost is None or lost.by != FAILED_AT_LIFT:
        return False
    before = replace(inputs, pressure=inputs.pressure[:-1])
    high = not all(under_the_lift(look, at) for look in (before, inputs) if look.pressure)
    return high or emergency_called(STUCK, valve_moved_at)(inputs, at) is not None


def _lost(inputs: AlarmInputs) -> Lost | None:
    return None if inputs.picture is None else inputs.picture.water.lost


def may_be_steamed(inputs: AlarmInputs, at: float) -> bool:
    return inputs.picture is not None and inputs.picture.water.not_to_be_steamed_since is None


def glass_empty(inputs: AlarmInputs, at: float) -> str | None:
    """Blown through over heat the glass stayed empty: what was called before is no level."""
    seen = inputs.picture
    if seen is None or seen.glass.emptied_at is None or not hot(seen):
        return None
    if worse_than_empty(inputs, at):
        return None
    return f"glass stays empty, {ago(at - seen.glass.emptied_at)}"


def glass_not_empty(inputs: AlarmInputs, at: float) -> bool:
    """It came back and the water was called since, or there is no heat."""
    seen = inputs.picture
    if seen is None:
        return False
    read = seen.glass.emptied_at is None and seen.water.value not in UNREAD
    return read or not hot(seen)


def worse_than_empty(inputs: AlarmInputs, at: float) -> bool:
    """Whether it is out of sight or doubted, or the glass is called broken."""
    return lost_again(inputs, at) or emergency_called(BROKEN)(inputs, at) is not None


def glass_unproved(inputs: AlarmInputs, at: float) -> str | None:
    """A glass that broke or failed its test is in use again over heat, and not proved."""
    seen = inputs.picture
    if seen is None or not hot(seen) or not _unproved(seen) or seen.glass.risen:
        return None
    if seen.glass.emptied_at is not None:
        return None  # a danger says so
    if seen.fire.out and inputs.gauge_at_rest and inputs.state("glass cocks") == "shut":
        return None  # shut when she is put away
    return "; ".join(seen.glass.witnesses)


def risen_unfed(inputs: AlarmInputs, at: float) -> str | None:
    """The glass has risen, unfed and over heat, by more than heat explains, by two looks."""
    seen = inputs.picture
    return seen.glass.risen or None if seen is not None and hot(seen) else None


def glass_proved(inputs: AlarmInputs, at: float) -> bool:
    seen = inputs.picture
    if seen is None:
        return False
    return not _unproved(seen) or bool(seen.glass.risen) or seen.glass.emptied_at is not None


def _unproved(seen: Picture) -> bool:
    return seen.glass.value == "unproved" and seen.water.value == "unproved"


def fed_unseen(inputs: AlarmInputs, at: float) -> str | None:
    """A feed is put on, or left on, while nobody knows the level or whether the plates are bare."""
    seen = inputs.picture
    begun = None if seen is None else _last_begun(seen)
    if seen is None or begun is None:
        return None
    lost_at, water = seen.water.not_to_be_fed_since, seen.water
    if lost_at is not None and (begun >= lost_at or at >= lost_at + STOPPED_WITHIN_S):
        return f"feed on after {lost_by(seen)}, and the boiler not looked at"
    spoiled_at = water.since if water.value in UNREAD and hot(seen) else None
    another_way = seen.glass.value == "broken"  # what is called then was not read in the glass
    if spoiled_at is None:
        return None
    called_since = water.age_s is not None and at - water.age_s > spoiled_at
    if another_way and (called_since or _at_the_cocks(inputs, spoiled_at)):
        return None
    return f"feed on, and no level is read: {'; '.join(seen.water.witnesses)}"


def _at_the_cocks(inputs: AlarmInputs, since: float) -> bool:
    """Whether the try cocks were told to show water since then."""
    told = inputs.states.get("try cocks")
    return told is not None and told.value == "show water" and told.at >= since


def lost_by(seen: Picture) -> str:
    """Why she is not to be steamed; empty where she may be."""
    return "" if seen.water.lost is None else seen.water.lost.by


def feed_to_be_stopped_at(inputs: AlarmInputs) -> float:
    """When a feed that was on before the water was lost should be off."""
    seen = inputs.picture
    lost_at = None if seen is None else seen.water.not_to_be_fed_since
    on = seen is not None and _last_begun(seen) is not None
    return lost_at + STOPPED_WITHIN_S if lost_at is not None and on else math.inf


def _last_begun(seen: Picture) -> float | None:
    """When the feed was put on that began last [s]; None while none runs, or may run."""
    told = [feed.running_since for feed in seen.feeds.by_name.values()]
    begun = [at for at in (*told, seen.feeds.may_run_since) if at is not None]
    return max(begun, default=None)


def fired_unseen(inputs: AlarmInputs, at: float) -> str | None:
    """A new fire after the water was lost."""
    return _fired(inputs, at, after_water=True)


def fired_after_failure(inputs: AlarmInputs, at: float) -> str | None:
    """A new fire in a boiler that has let go."""
    return _fired(inputs, at, after_water=False)


def _fired(inputs: AlarmInputs, at: float, after_water: bool) -> str | None:
    fire, seen, lost = inputs.states.get("fire"), inputs.picture, _lost(inputs)
    if seen is None or lost is None or fire is None or fire.value not in MADE:
        return None
    told_at = fire.at if seen.fire.age_s is None else max(fire.at, at - seen.fire.age_s)
    if (lost.by == WATER_LOST) is not after_water or told_at <= lost.at:
        return None  # coal put on a fire that was in is told of again, and made anew
    return f"fire {fire.value} after {lost.by}"
