"""Alarm conditions for a glass that is broken: nobody knows the level. Pure; reads the picture."""

from __future__ import annotations

import math

from assistant.alarms.inputs import AlarmInputs
from assistant.alarms.water_rules import hot
from assistant.picture.glass import BROKEN
from assistant.picture.water import UNKNOWN_AFTER

SHUT_WITHIN_S = 120.0  # from the burst to the heat, where nobody tells of its cocks. Judgement


def level_unknown(inputs: AlarmInputs, at: float) -> str | None:
    """Over heat the glass is broken, its cocks are shut, or another is in that is not proved; and
    no level was called another way.
    """
    if at < level_unknown_at(inputs):
        return None
    return BROKEN


def level_unknown_at(inputs: AlarmInputs) -> float:
    """From when it is so, if nothing more is reported [s]; infinity: it is not."""
    seen = inputs.picture
    new = seen is not None and seen.glass.put_in_at is not None
    if seen is None or not hot(seen) or seen.water.out_of_sight:
        return math.inf
    broken_at, age_s, interval_s = seen.glass.since, seen.water.age_s, seen.water.interval_s
    if broken_at is None or not (new or seen.glass.value == "broken"):
        return math.inf
    called_at = -math.inf if age_s is None or new else seen.at - age_s  # new, it shows no level
    called_at = max(called_at, seen.glass.tried_at or -math.inf)
    if called_at > broken_at:  # by the try cocks or another glass: good for as long as any level
        return math.inf if interval_s is None else called_at + UNKNOWN_AFTER * interval_s
    return broken_at if new or seen.glass.cocks_shut else broken_at + SHUT_WITHIN_S
