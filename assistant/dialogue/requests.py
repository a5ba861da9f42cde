"""The operator's orders: questions about boiler and list, and moves in the list.

One function for each name in `messages.ORDERS`, but "undo" (see `utterance.act`) and "call" (see
`wake_gate`). Nothing here decides what is said unasked.
"""

from __future__ import annotations

from collections.abc import Callable

from assistant.belief import consumption, forecast, water_forecast
from assistant.boiler.scales import LITRE_M3, VOLUME_M3
from assistant.dialogue import (
    alarm_notices,
    counted_totals,
    ending,
    engine_ahead,
    following,
    for_today,
    hand_over,
    lessons,
    no_minutes,
    plate_check,
    spoken_help,
    time_to_pressure,
)
from assistant.dialogue.agenda import danger_acts, step_words, water_forbids
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import clock, needs, person, questions, told, work
from assistant.dialogue.picture_now import picture_now
from assistant.dialogue.state import STEP, Doubt
from assistant.dialogue.why_water_moves import cause_of
from assistant.messages import COAL_PUT_ON, Ended, Hush, Order, Report, StepSkipped, Urgency
from assistant.procedure import plate, position
from assistant.procedure import progress as steps
from assistant.procedure.checklist import Step
from assistant.procedure.scale import glass_litres, measure, pressure_unit_pa
from assistant.wording import forecast_words, walkthrough
from assistant.wording.dial_units import in_dial

DEFAULT_WAIT_MIN = 5.0  # "wait" without a number; common practice, no source


def obey(context: EventContext, order: Order) -> None:
    """Answer or obey one order."""
    _ORDERS[order.name](context, order)


def _reply(context: EventContext, text: str) -> None:
    context.say(text, Urgency.ANSWER)


# --- the boiler


def _how_long(context: EventContext, order: Order) -> None:
    target = None
    if order.value is not None:
        target = measure(Report("pressure", order.value, order.unit), context.config.engine)
    made = time_to_pressure.forecast_time(context, target)
    told.because(context, made.why)
    _reply(context, time_to_pressure.time_words(context, made))


def _how_long_water(context: EventContext, order: Order) -> None:
    lasts = water_forecast.minutes_to_lower_mark(context.state.belief)
    told.because(context, lasts.why)
    band = lasts.band
    _reply(
        context,
        forecast_words.water_lasts(None, None, None)
        if band is None
        else forecast_words.water_lasts(band.low, band.mid, band.high),
    )


def _if_feed(context: EventContext, order: Order) -> None:
    unit = order.unit or "litre"
    amount = order.value if order.value is not None else 1.0
    litres = amount * VOLUME_M3[unit] / LITRE_M3
    try:
        cost = forecast.feed_cost(context.state.belief, litres)
    except ValueError:
        _reply(context, forecast_words.too_much_feed())
        return
    dial = context.dial
    drop = cost.drop_pa.mid / pressure_unit_pa(dial)
    gain = litres / glass_litres(context.config.engine)
    told.because(context, cost.why)
    _reply(context, forecast_words.feed_cost_words(amount, unit, drop, dial, gain))


def _is_it_expansion(context: EventContext, order: Order) -> None:
    trend = water_forecast.water_trend(context.state.belief)
    told.because(context, forecast_words.trend_reason(trend.why))
    cause = cause_of(context, trend.cause)
    _reply(context, forecast_words.is_it_expansion(trend.word, cause))


def _when_lift(context: EventContext, order: Order) -> None:
    if against := no_minutes.why_not(context):
        told.because(context, against)
        _reply(context, forecast_words.no_time(against))
        return
    lift = forecast.minutes_to_lift(context.state.belief)
    told.because(context, lift.why)
    band = lift.band
    _reply(
        context,
        forecast_words.when_lift(None, None, None, in_dial(lift.why, context.dial))
        if band is None
        else forecast_words.when_lift(band.low, band.mid, band.high),
    )


def _used(context: EventContext, order: Order) -> None:
    used = consumption.used(context.state.belief)
    told.because(context, used.why)
    totals = counted_totals.totals(context)
    coal = any(timed.report.what == COAL_PUT_ON for timed in context.state.reports)
    _reply(
        context,
        " ".join([forecast_words.used_words(used.water_kg, used.fuel_kg, coal), *totals]),
    )


# --- the list


def _repeat(context: EventContext, order: Order) -> None:
    _reply(context, context.state.told.last_said or walkthrough.nothing_more())


def _next(context: EventContext, order: Order) -> None:
    emergency, emergencies = alarm_notices.emergency_standing(context), context.config.emergencies
    if emergency is not None and emergencies is not None:
        _reply(context, danger_acts.next_acts(context, " ".join(emergencies.words(emergency))))
        return
    if context.state.doubt is None and lessons.next_act(context):
        return
    if context.state.doubt is None:  # else that is put again, and is what comes next
        context.next_asked = True


def _idle(context: EventContext) -> str:
    waits = position.next_waiting(context.state.progress)
    return "Waiting for pressure." if waits else walkthrough.nothing_more()


def _why(context: EventContext, order: Order) -> None:
    step = position.in_hand(context.state.progress)
    emergency = alarm_notices.emergency_standing(context)
    if emergency is not None:
        _reply(context, walkthrough.why(emergency.why))
    elif context.state.told.why:
        _reply(context, walkthrough.why(context.state.told.why))
    elif step is not None:
        _reply(context, walkthrough.why(step.why))
    else:
        _reply(context, walkthrough.why(""))


def _where(context: EventContext, order: Order) -> None:
    state = context.state
    step = position.in_hand(state.progress) or position.current(state.progress)
    _reply(
        context,
        walkthrough.where(
            state.phase.value,
            _first(context, step),
            len(position.open_steps(state.progress)),
            hand_over.last_reading(context, "pressure"),
            hand_over.last_reading(context, "water"),
        ),
    )


def _first(context: EventContext, step: Step | None) -> str:
    """What comes first: the step in hand, or what an alarm wants where it must not be done."""
    if step is None:
        return _idle(context)
    forbidden = water_forbids.forbids(context, step)
    return (forbidden and alarm_notices.goes_first(context)) or step_words.words(context, step.say)


def _open_items(context: EventContext, order: Order) -> None:
    items = [step.id for step in position.open_items(context.state.progress)]
    items += [plate.STEP] if plate_check.is_open(context) else []
    progress, never = context.state.progress, following.never_proved(context)
    if picture_now(context).fire.heat:  # what should have been proved before it
        never += tuple(step for step in position.holds_open(progress) if step.killer)
    items += [step.id for step in never if step.id not in items]
    to_go = len(position.open_steps(progress))
    _reply(context, walkthrough.items_open(items, to_go))


def _ready(context: EventContext, order: Order) -> None:
    context.ready = True
    person.quiet_until(context, 0.0)


def _not_yet(context: EventContext, order: Order) -> None:
    step = position.in_hand(context.state.progress)
    if step is not None:
        needs.put_off(context, STEP + step.id)
    _reply(context, walkthrough.not_yet())


def _wait(context: EventContext, order: Order) -> None:
    minutes = order.value if order.value is not None else DEFAULT_WAIT_MIN
    most = context.config.engine.water_interval_s / 60.0
    if picture_now(context).fire.heat and minutes > most:
        person.quiet_until(context, context.at + 60.0 * most)
        _reply(context, walkthrough.waiting_no_longer(most))
        return
    person.quiet_until(context, context.at + 60.0 * minutes)
    _reply(context, walkthrough.waiting(minutes))


def _not_skipped(context: EventContext, step: Step) -> str:
    return walkthrough.not_skipped(step_words.words(context, step.say), step.hold)


def _skip(context: EventContext, order: Order) -> None:
    if plate_check.has_floor(context):
        plate_check.skip(context)
        return
    step = position.in_hand(context.state.progress) or position.current(context.state.progress)
    outcome = steps.skip(context.state.progress)
    if outcome.refused or step is None:
        _reply(
            context,
            walkthrough.not_skipped(step_words.words(context, step.say), step.hold)
            if step
            else outcome.say,
        )
        return
    work.come_to(context, outcome.progress)
    needs.answered(context, STEP + step.id)
    context.record(StepSkipped(context.state.phase.value, step.id))
    words = water_forbids.reply(context, walkthrough.skipped(step.id))
    _reply(context, words or walkthrough.skipped())


def _not_here(context: EventContext, order: Order) -> None:
    """What was put last does not apply to this engine today: it ends, and is not asked again."""
    if plate_check.has_floor(context):
        plate_check.skip(context)
        return
    if for_today.end_what_was_put_last(context):
        return
    step = position.in_hand(context.state.progress) or position.current(context.state.progress)
    outcome = steps.leave_out(context.state.progress, context.at)
    if outcome.refused or step is None:
        _reply(
            context,
            walkthrough.not_skipped(step_words.words(context, step.say), step.hold)
            if step
            else outcome.say,
        )
        return
    work.come_to(context, outcome.progress)
    needs.answered(context, STEP + step.id)
    context.record(StepSkipped(context.state.phase.value, step.id, steps.LEFT_OUT))
    _reply(context, walkthrough.left_out(step.id))


def _back(context: EventContext, order: Order) -> None:
    if engine_ahead.take_back(context):
        return
    outcome = steps.back(context.state.progress)
    if outcome.refused:
        _reply(context, walkthrough.no_step_back())
        return
    work.come_to(context, outcome.progress)
    needs.put_steps_again(context)


# --- the session


def _hush(context: EventContext, order: Order) -> None:
    context.alarm(Hush())


def _stop(context: EventContext, order: Order) -> None:
    doubt = context.before.doubt
    if doubt is not None and doubt.meaning == order:
        context.record(Ended("asked for"))
        _reply(context, ending.ended(context))
        clock.end(context)
        return
    questions.doubt(context, Doubt(order, "the end is asked twice", context.at))
    _reply(context, ending.confirm(context, order))


def _note(context: EventContext, order: Order) -> None:
    questions.expect_note(context, True)
    _reply(context, walkthrough.note_follows())


def _acknowledge(context: EventContext, order: Order) -> None:
    alarm_notices.acknowledge_spoken(context)


def _shelve(context: EventContext, order: Order) -> None:
    alarm_notices.shelve_gravest(context)


_ORDERS: dict[str, Callable[[EventContext, Order], None]] = {
    "repeat": _repeat,
    "next": _next,
    "how": lessons.how,
    "why": _why,
    "how long": _how_long,
    "how long water": _how_long_water,
    "if feed": _if_feed,
    "is it expansion": _is_it_expansion,
    "when lift": _when_lift,
    "how much used": _used,
    "where": _where,
    "open items": _open_items,
    "ready": _ready,
    "not yet": _not_yet,
    "wait": _wait,
    "skip": _skip,
    "not here": _not_here,
    "back": _back,
    "acknowledge": _acknowledge,
    "shelve": _shelve,
    "hush": _hush,
    "stop": _stop,
    "note": _note,
    "help": lambda context, order: spoken_help.tell(context),
    "troubles": lambda context, order: spoken_help.tell_troubles(context),
}
