"""Why no time to a pressure is told now: what is known of gauge, water and fire does not bear one.

Reads the picture and the alarms; forecasts nothing and says nothing.
"""

from __future__ import annotations

from assistant.alarms.water_rules import UNREAD, hot
from assistant.dialogue import asking
from assistant.dialogue.alarm_notices import LIST_RESTS
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.messages import Grade
from assistant.picture.picture import Picture
from assistant.procedure import remedies

INTERVALS = 2.0  # of the water: a level called longer ago is not known
BLOWS = "valve does not reseat"  # the alarm
LOW = frozenset({"at the mark", "below the mark", "out of sight", "doubted"})


def why_not(context: EventContext) -> str:
    """What stands against it, in few words; empty: nothing does."""
    picture, alarms = picture_now(context), context.state.watch.alarms
    if picture.gauge.conflict is not None:
        return "gauge and valve disagree"
    if remedies.GAUGE_TROUBLE in context.state.lists_in_hand:
        return "the gauge is not proved"
    if picture.gauge.still_since is not None:
        return "the gauge does not move"
    if context.state.watch.stands(BLOWS):
        return "the valve does not reseat"
    if picture.gauge.unread_since is not None:
        return "the gauge is not read at the valve"
    if any(alarm.rule.grade is Grade.DANGER for alarm in alarms):
        return "a danger stands"
    if picture.water.not_to_be_steamed_since is not None:
        return "she is not to be steamed"
    if hot(picture) and picture.water.value in UNREAD:
        return "the glass is not proved"
    if picture.water.value in LOW or context.state.watch.stands(*LIST_RESTS):
        return "the water comes first"
    if _water_is_old(context, picture) or asking.called_wrong(context, "water"):
        return "the water is not read"
    return "the pressure falls" if _falls(context, picture) else ""


def _water_is_old(context: EventContext, picture: Picture) -> bool:
    """Whether there is steam, and the level was not called within two intervals."""
    water, steam = picture.water, picture.steam
    if steam.value != "steam" or steam.since is None:
        return False
    wanted_s = INTERVALS * context.config.engine.water_interval_s
    unread_s = picture.at - steam.since if water.age_s is None else water.age_s
    return unread_s > wanted_s


def _falls(context: EventContext, picture: Picture) -> bool:
    """Whether it falls by more than hunting under the wanted pressure, and nothing explains it."""
    fall, working = picture.fall, context.config.engine.working_pressure_gauge_pa
    return fall is not None and fall.clear and fall.unexplained and fall.now_pa < working
