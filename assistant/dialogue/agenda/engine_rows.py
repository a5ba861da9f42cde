"""Needs that come from the state of the engine itself, whatever list is in hand. Speaks nothing."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.dialogue.agenda.need import Need, Rank
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.picture.picture import Picture
from assistant.procedure.scale import pressure_unit_pa
from assistant.wording import engine_words

VALVE_S, HEAT_S, ASK_S = 120.0, 180.0, 300.0  # times to respond. Judgement
RISING = 0.02  # of working pressure; less between two readings is hunting. Judgement
SHUT = frozenset({"shut", "crack"})
SILENT = "valve silent"  # the alarm that follows


def valve(context: EventContext) -> Iterator[Need]:
    """Past the pressure at which the valve should move, and it was not told that it does."""
    seen, engine = picture_now(context).valve, context.config.engine
    alarmed = any(alarm.name == SILENT for alarm in context.state.watch.alarms)
    if seen.value != "overdue" or alarmed:
        return
    feathers, dial = engine.valve_feathers_gauge_pa, context.dial
    if seen.over_lift or feathers is None:
        words = engine_words.does_it_lift()
    else:
        words = engine_words.does_it_feather(feathers / pressure_unit_pa(dial), dial)
    name = "valve at its lift" if seen.over_lift else "valve at its feather"
    yield Need(name, Rank.DUE, VALVE_S, words=words)


def _told_since_the_gauge(picture: Picture) -> bool:
    """Whether the valve blew and shut after the last reading: that is over."""
    told_s, called_s = picture.valve.age_s, picture.gauge.age_s
    return told_s is not None and called_s is not None and told_s < called_s


def heat(context: EventContext) -> Iterator[Need]:
    """Rising above the valve's figure with the damper shut; rising with the fire called out."""
    picture, engine = picture_now(context), context.config.engine
    now, before = picture.gauge.pressure_pa, picture.gauge.before_pa
    least = RISING * engine.working_pressure_gauge_pa
    rising = now is not None and before is not None and now - before >= least
    high = now is not None and now >= engine.valve_moves_gauge_pa
    blows = picture.valve.value in ("feathering", "lifting") or _told_since_the_gauge(picture)
    if rising and high and not blows and picture.damper.value in SHUT:
        yield Need("still rising", Rank.DUE, HEAT_S, words=engine_words.still_rising())
    if picture.fire.asks_fire:
        yield Need("fire asked", Rank.DUE, ASK_S, words=engine_words.is_there_fire())
