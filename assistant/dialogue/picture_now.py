"""The picture of this event, made from what the session holds. Writes nothing, says nothing."""

from __future__ import annotations

from assistant.belief.estimate import gauge_rise, mass_kg, temperature_at_k
from assistant.boiler.glass import shown_for
from assistant.dialogue.event_context import EventContext, PictureMade
from assistant.dialogue.owners import boiler, devices
from assistant.messages import NOT_NAMED, ON_WATCH
from assistant.picture.given import Given
from assistant.picture.picture import Picture, picture_of
from assistant.picture.report_log import Movement

DEAF = frozenset({devices.MICROPHONE, devices.HEARING})
MISSES = 3  # utterances in a row not understood: we do not hear him. Judgement


def picture_now(context: EventContext) -> Picture:
    """What is known now; made once for each report log and time, after the belief has heard it."""
    state, made = context.state, context.picture_made
    if made is not None and made.reports is state.reports and made.at == state.at:
        return made.picture
    picture = picture_of(_given(context))
    context.picture_made = PictureMade(state.reports, state.at, picture)
    return picture


def on_watch(context: EventContext) -> str:
    """Who has the watch, as it was last handed over; empty where no name was said.

    Who says later that he has it himself says no name.
    """
    latest, kept = context.state.latest(ON_WATCH), context.state.latest("watch")
    name = "" if latest is None else str(latest.report.value)
    taken_back = latest is not None and kept is not None and kept.at > latest.at
    return "" if name == NOT_NAMED or taken_back else name


def _given(context: EventContext) -> Given:
    state = context.state
    gauge_and_valve = state.belief.facts.gauge_and_valve
    conflict = gauge_and_valve.conflict
    return Given(
        context.config.engine,
        state.reports,
        state.at,
        near_boiling=boiler.estimated(context, lambda estimates: estimates.near_boiling, False),
        expansion=_expansion(context),
        use=_use(context),
        rise=_rise(context),
        conflict=None if conflict is None else conflict.grade,
        conflict_since=None if conflict is None else conflict.since_s,
        unread_since=gauge_and_valve.unread_s,
        agreed=gauge_and_valve.agreed_s is not None,
        warm_since=state.procedure.warm_since,
        breaks=state.clock.breaks,
        heard_at=state.person.heard_at,
        hears=not state.lost_devices & DEAF and state.hearing.misses < MISSES,
        hears_since=state.hearing.back_at,
        watch=on_watch(context),
    )


def _expansion(context: EventContext) -> Movement:
    """What temperature alone does to the level, by belief; nothing where that cannot be told."""

    def moved(from_s: float, to_s: float) -> float | None:
        return context.or_none(lambda: level_change(context, from_s, to_s))

    reports = context.state.reports
    return lambda from_s, to_s: reports.move_once("warmth", from_s, to_s, moved)


def _use(context: EventContext) -> Movement:
    """By how much steam taken lowered the level, by belief; nothing where that cannot be told."""

    def taken(from_s: float, to_s: float) -> float | None:
        return context.or_none(lambda: level_used(context, from_s, to_s))

    reports = context.state.reports
    return lambda from_s, to_s: reports.move_once("use", from_s, to_s, taken)


def _rise(context: EventContext) -> Movement:
    """By how much the gauge should have risen at the least, by belief."""

    def risen(from_s: float, to_s: float) -> float | None:
        return context.or_none(lambda: gauge_rise(context.state.belief, from_s, to_s))

    reports = context.state.reports
    return lambda from_s, to_s: reports.move_once("rise", from_s, to_s, risen)


def level_used(context: EventContext, from_s: float, to_s: float) -> float:
    """By how much steam taken lowered the level between two times [of the glass]."""
    water = context.state.belief.water
    return water.change(from_s, to_s).taken * water.glass_per_kg(water.track.at(to_s))


def level_change(context: EventContext, from_s: float, to_s: float) -> float:
    """How the level changes with temperature alone between two times [of the glass]."""
    belief, engine = context.state.belief, context.config.engine
    kg = mass_kg(belief)
    first, last = (shown_for(engine, kg, temperature_at_k(belief, at)) for at in (from_s, to_s))
    return last - first
