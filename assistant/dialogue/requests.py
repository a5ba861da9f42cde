"""What the operator wants of the assistant: questions about boiler and list, and moves in the list.

One function an order, found by its name in `messages.ORDERS` ("undo" is `readings`' own). Answers
come from forecasts, the list and the watch; nothing here decides what is said unasked.
"""

from __future__ import annotations

from collections.abc import Callable

from assistant.belief import forecast
from assistant.boiler.scales import LITRE_M3, PSI_PA, VOLUME_M3
from assistant.dialogue import alarm_notices, time_to_pressure
from assistant.dialogue.event_context import Turn
from assistant.dialogue.state import Doubt
from assistant.messages import Ended, Hush, Order, Report, StepSkipped, Urgency
from assistant.procedure import position
from assistant.procedure import progress as steps
from assistant.procedure.scale import measure
from assistant.wording import forecast_words, readback, walkthrough

DEFAULT_WAIT_MIN = 5.0  # "wait" without a number; common practice, no source


def do(turn: Turn, order: Order) -> None:
    """Answer or obey one order."""
    _ORDERS[order.name](turn, order)


def _reply(turn: Turn, text: str) -> None:
    turn.say(text, Urgency.ANSWER)


# --- the boiler


def _how_long(turn: Turn, order: Order) -> None:
    wanted = None
    if order.value is not None:
        wanted = measure(Report("pressure", order.value, order.unit), turn.parts.engine)
    made = time_to_pressure.tell_time(turn, wanted)
    turn.now(why=made.why)
    _reply(turn, time_to_pressure.time_words(turn, made))


def _how_long_water(turn: Turn, order: Order) -> None:
    lasts = forecast.minutes_to_lower_mark(turn.mind.belief)
    turn.now(why=lasts.why)
    band = lasts.band
    _reply(
        turn,
        forecast_words.water_lasts(None, None, None)
        if band is None
        else forecast_words.water_lasts(band.low, band.mid, band.high),
    )


def _if_feed(turn: Turn, order: Order) -> None:
    unit = order.unit or "litre"
    amount = order.value if order.value is not None else 1.0
    litres = amount * VOLUME_M3[unit] / LITRE_M3
    try:
        cost = forecast.feed_cost(turn.mind.belief, litres)
    except ValueError:
        _reply(turn, forecast_words.too_much_feed())
        return
    dial = turn.mind.dial
    per_unit = measure(Report("pressure", 1.0, dial), turn.parts.engine) or PSI_PA
    points = turn.parts.engine.glass.points
    a_glass = (points[-1][1] - points[0][1]) / (points[-1][0] - points[0][0])
    turn.now(why=cost.why)
    _reply(
        turn,
        forecast_words.feed_cost(amount, unit, cost.drop_pa.mid / per_unit, dial, litres / a_glass),
    )


def _is_it_expansion(turn: Turn, order: Order) -> None:
    trend = forecast.water_trend(turn.mind.belief)
    turn.now(why=forecast_words.trend_reason(trend.why))
    _reply(turn, forecast_words.is_it_expansion(trend.word, trend.cause))


def _when_lift(turn: Turn, order: Order) -> None:
    lift = forecast.minutes_to_lift(turn.mind.belief)
    turn.now(why=lift.why)
    band = lift.band
    _reply(
        turn,
        forecast_words.when_lift(None, None, None, lift.why)
        if band is None
        else forecast_words.when_lift(band.low, band.mid, band.high),
    )


def _used(turn: Turn, order: Order) -> None:
    used = forecast.used(turn.mind.belief)
    turn.now(why=used.why)
    _reply(turn, forecast_words.used(used.water_kg, used.fuel_kg))


# --- the list


def _repeat(turn: Turn, order: Order) -> None:
    _reply(turn, turn.mind.said or walkthrough.nothing_more())


def _next(turn: Turn, order: Order) -> None:
    emergency, known = alarm_notices.emergency_standing(turn), turn.parts.emergencies
    if emergency is not None and known is not None:
        _reply(turn, " ".join(known.words(emergency)))
        return
    step = position.in_hand(turn.mind.progress) or position.current(turn.mind.progress)
    if step is not None:
        _reply(turn, walkthrough.step(step.say, step.caution))
        return
    waits = position.waits_for(turn.mind.progress)
    _reply(
        turn,
        walkthrough.waiting_for("pressure", waits.say) if waits else walkthrough.nothing_more(),
    )


def _idle(turn: Turn) -> str:
    waits = position.waits_for(turn.mind.progress)
    return "Waiting for pressure." if waits else walkthrough.nothing_more()


def _called(turn: Turn, gauge: str) -> Report | None:
    """The last reading of a gauge; not what else was said of it ("no blow-down")."""
    seen = (s.report for s in reversed(turn.mind.seen) if s.report.what == gauge)
    return next((r for r in seen if r.unit is not None or r.value == "out of sight"), None)


def _why(turn: Turn, order: Order) -> None:
    step = position.in_hand(turn.mind.progress)
    emergency = alarm_notices.emergency_standing(turn)
    if emergency is not None:
        _reply(turn, walkthrough.why(emergency.why))
    elif turn.mind.why:
        _reply(turn, walkthrough.why(turn.mind.why))
    elif step is not None:
        _reply(turn, walkthrough.why(step.why))
    else:
        _reply(turn, walkthrough.why(""))


def _where(turn: Turn, order: Order) -> None:
    mind = turn.mind
    step = position.in_hand(mind.progress) or position.current(mind.progress)
    pressure, water = (_called(turn, gauge) for gauge in ("pressure", "water"))
    _reply(
        turn,
        walkthrough.where(
            mind.phase.value,
            step.say if step else _idle(turn),
            len(position.open_steps(mind.progress)),
            readback.report_words(pressure, mind.dial) if pressure else "",
            readback.report_words(water, mind.dial) if water else "",
        ),
    )


def _open_items(turn: Turn, order: Order) -> None:
    items = [step.id for step in position.open_items(turn.mind.progress)]
    _reply(turn, walkthrough.items_open(items))


def _ready(turn: Turn, order: Order) -> None:
    turn.ready = True
    turn.now(quiet_until=0.0)


def _not_yet(turn: Turn, order: Order) -> None:
    turn.now(asked_at=turn.at)
    _reply(turn, walkthrough.not_yet())


def _wait(turn: Turn, order: Order) -> None:
    minutes = order.value if order.value is not None else DEFAULT_WAIT_MIN
    turn.now(quiet_until=turn.at + 60.0 * minutes)
    _reply(turn, walkthrough.waiting(minutes))


def _skip(turn: Turn, order: Order) -> None:
    step = position.in_hand(turn.mind.progress) or position.current(turn.mind.progress)
    outcome = steps.skip(turn.mind.progress)
    if outcome.refused or step is None:
        _reply(turn, walkthrough.not_skipped(step.say, step.hold) if step else outcome.say)
        return
    turn.now(progress=outcome.progress)
    turn.fact(StepSkipped(turn.mind.phase.value, step.id))
    _reply(turn, walkthrough.skipped(step.id))


def _back(turn: Turn, order: Order) -> None:
    outcome = steps.back(turn.mind.progress)
    if outcome.refused:
        _reply(turn, walkthrough.no_step_back())
        return
    turn.now(progress=outcome.progress, asked_times=0)


# --- the session


def _hush(turn: Turn, order: Order) -> None:
    turn.alarm(Hush())


def _stop(turn: Turn, order: Order) -> None:
    doubt = turn.before.doubt
    if doubt is not None and doubt.meaning == order:
        turn.fact(Ended("asked for"))
        turn.now(over=True)
        _reply(turn, walkthrough.ended(turn.mind.fire_in))
        return
    turn.now(doubt=Doubt(order, "the end is asked twice", turn.at))
    _reply(turn, walkthrough.end_asked())


def _note(turn: Turn, order: Order) -> None:
    turn.now(noting=True)
    _reply(turn, walkthrough.note_follows())


def _acknowledge(turn: Turn, order: Order) -> None:
    alarm_notices.acknowledge(turn)


def _shelve(turn: Turn, order: Order) -> None:
    alarm_notices.shelve(turn, order.value)


_ORDERS: dict[str, Callable[[Turn, Order], None]] = {
    "repeat": _repeat,
    "next": _next,
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
    "back": _back,
    "acknowledge": _acknowledge,
    "shelve": _shelve,
    "hush": _hush,
    "stop": _stop,
    "note": _note,
}
