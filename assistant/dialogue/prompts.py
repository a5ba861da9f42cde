"""What is said unasked while the boiler works: forecasts, the readings wanted, work for idle hands.

Knows the list only to keep out of its way: a question that a step asks anyway is not put twice.
"""

from __future__ import annotations

from assistant.belief import forecast
from assistant.dialogue import asking, time_to_pressure
from assistant.dialogue.event_context import EventContext
from assistant.messages import ForecastMade, Grade, Report, StepAsked, Tick, Urgency
from assistant.procedure import position
from assistant.procedure.checklist import Phase, Step
from assistant.procedure.scale import level, measure
from assistant.wording import forecast_words, walkthrough

OTHER_AFTER_S = 30.0  # a gauge asked for in vain: the other one, when that is wanted too
MOST_PATIENCE_S = 600.0
PATIENCE_S = 60.0  # a question is put again after this, then after twice as long each time
ASK_READING_AFTER = 0.8  # of the engine's interval, so that the call comes before it is overdue
COLD, WARM = 3.0, 1.5  # readings are so much rarer while the gauge rests. Judgement
LOOK_EARLY_S = 90.0  # a gauge believed to have reached the next step is read no sooner than this
FORECAST_EVERY_S = 240.0
NEWS = 0.15  # a forecast is said again when it is off the last one by so much
TOO_SHORT_MIN = 3.0  # so short a time is seen on the gauge
PLANNED_FROM = 0.1  # of working pressure: below it no forecast is a plan. Judgement
MOVED = 0.02  # of working pressure: the gauge has moved
VALVE_AGAIN_S = 600.0  # lifts no further apart: the fire is too strong. Judgement
LATE = 1.1  # times the later end of what was expected. Judgement
NO_GLASS = "glass broken"
STEAM = frozenset({Phase.RAISING_STEAM, Phase.TICK_OVER, Phase.PUMPING, Phase.STANDING_BY})


def tell_forecasts(context: EventContext) -> None:
    """After a pressure: the time to working pressure; after a water: by what it moves."""
    told = {report.what for report in context.accepted}
    try:
        if "pressure" in told and context.state.phase is Phase.RAISING_STEAM:
            _time_to_pressure(context)
        if "water" in told:
            _water_moves(context)
        if Report("valve", "lifting") in context.accepted:
            _valve_again(context)
        if Report("fire", "lit") in context.accepted:
            _first_steam(context)
    except Exception as bug:
        context.failed(bug)


def _time_to_pressure(context: EventContext) -> None:
    state = context.state
    before, since = state.forecast, context.at - state.forecast_at
    made = time_to_pressure.tell_time(context)
    moved = _gauge(context) > 0.0
    first = moved and made.mid is not None and _gauge(context, 2) == 0.0
    footing = _gauge(context) >= PLANNED_FROM * context.parts.engine.working_pressure_gauge_pa
    if state.plan_at is None and footing and made.mid is not None and made.high is not None:
        within = 60.0 * (made.high - made.mid)
        context.update(plan_at=context.at + 60.0 * made.mid, plan_within_s=within)
    if before is None or first or (moved and _is_news(before, made, since)):
        context.say(time_to_pressure.time_words(context, made), Urgency.CHAT)
        context.update(why=context.state.why if context.alarmed else made.why)
    else:
        context.update(forecast=before, forecast_at=state.forecast_at)


def _valve_again(context: EventContext) -> None:
    """A valve that lifts when it has been proved blows water away: said, one in some minutes."""
    lifts = [s.at for s in context.state.seen if s.report == Report("valve", "lifting")]
    if len(lifts) < 2 or lifts[-1] - lifts[-2] > VALVE_AGAIN_S:
        return
    if context.at - context.state.valve_told_at < VALVE_AGAIN_S / 2:
        return
    context.update(valve_told_at=context.at, why=forecast_words.valve_why())
    context.say(forecast_words.valve_again(context.state.latest_is("damper", "shut")), Urgency.CHAT)


def _first_steam(context: EventContext) -> None:
    """By when the gauge should move, as it is expected when the fire is lit."""
    moves = MOVED * context.parts.engine.working_pressure_gauge_pa
    band = forecast.minutes_to(context.state.belief, moves).band
    by = None if band is None else context.at + LATE * 60.0 * band.high
    context.update(first_steam_by=by)


def _is_news(before: ForecastMade, made: ForecastMade, since_s: float) -> bool:
    """Worth saying unasked: one in four minutes at most, and only a change that matters."""
    if since_s < FORECAST_EVERY_S or (made.mid is not None and made.mid < TOO_SHORT_MIN):
        return False
    if before.mid is None or made.mid is None:
        return before.mid is not made.mid
    due = max(before.mid - since_s / 60.0, 1.0)
    return abs(made.mid - due) > max(NEWS * due, 2.0) or since_s >= 3 * FORECAST_EVERY_S


def _water_moves(context: EventContext) -> None:
    """Told when it is new, and when the glass itself shows it: two readings that differ.

    That water is lost somewhere is told only when a second reading says so too.
    """
    trend = forecast.water_trend(context.state.belief)
    before, now = context.state.trend, (trend.word, trend.cause)
    context.update(trend=now)
    seen = trend.word in ("rising", "falling") and trend.word == _seen_to_move(context)
    told = context.state.trend_told
    if not seen or now == told or (trend.cause == "loss" and now != before):
        return
    context.say(forecast_words.water_trend_words(*now), Urgency.CHAT)
    context.update(why=forecast_words.trend_reason(trend.why), trend_told=now)


def _seen_to_move(context: EventContext) -> str:
    waters = [s.report for s in context.state.seen if s.report.what == "water"][-2:]
    values = [measure(report, context.parts.engine) for report in waters]
    if len(values) < 2 or values[0] is None or values[1] is None or values[0] == values[1]:
        return "steady"
    return "rising" if values[1] > values[0] else "falling"


def ask_readings(context: EventContext, coming: Step | None) -> None:
    """Ask for pressure, then water, before they are overdue. coming: the step to be put next."""
    if not context.elapsed(context.state.quiet_until):
        return
    if any(report.what == "pressure" for report in context.accepted):
        if age_s(context, "water") >= 0.5 * _interval(context) and not _asked_by(
            context, "water", coming
        ):
            asking.ask(context, "water")
        return
    if not isinstance(context.event, Tick) or context.spoke:
        return
    wanted = [what for what in ("pressure", "water") if _is_wanted(context, what)]
    other = [what for what in wanted if what != context.state.asking]
    if other and (context.state.asking is None or _other_now(context)):
        asking.ask(context, other[0])
    elif wanted and _tired(context):
        asking.ask(context, wanted[0])


def _other_now(context: EventContext) -> bool:
    """In the first round the other gauge is asked for soon; after that nobody is nagged."""
    first = context.state.asking_times < 2
    return context.elapsed(context.state.asking_at, OTHER_AFTER_S) if first else _tired(context)


def _is_wanted(context: EventContext, what: str) -> bool:
    if _asked_by(context, what, None):
        return False
    called = _called_at(context, what)
    early = (
        what == "pressure" and context.elapsed(called, LOOK_EARLY_S) and _step_believed_due(context)
    )
    return early or context.elapsed(called, _interval(context))


def _asked_by(context: EventContext, what: str, coming: Step | None) -> bool:
    """Whether a step asks for this very reading."""
    hand = position.in_hand(context.state.progress)
    return any(s is not None and s.kind == "value" and s.asks == what for s in (hand, coming))


def _tired(context: EventContext) -> bool:
    """Long enough ago to put the same question again."""
    patience = min(PATIENCE_S * 2.0 ** max(context.state.asking_times - 1, 0), MOST_PATIENCE_S)
    return context.elapsed(context.state.asking_at, patience)


def _step_believed_due(context: EventContext) -> bool:
    """The next step that waits for pressure has come up, by the belief or by the last two calls."""
    due = position.next_due(context.state.progress)
    if due is None or _gauge(context) <= 0.0:
        return False
    now = context.believed(lambda outlook: outlook.pressure, None)
    return (now is not None and now.mid >= due) or _reached_by_the_calls(context, due)


def _reached_by_the_calls(context: EventContext, due: float) -> bool:
    """Whether a pressure [Pa gauge] is reached if it went on as between the last two calls."""
    called = [s for s in context.state.seen if s.report.what == "pressure"][-2:]
    values = [measure(s.report, context.parts.engine) or 0.0 for s in called]
    if len(called) < 2 or called[1].at - called[0].at < LOOK_EARLY_S / 2:
        return False
    rate = max((values[1] - values[0]) / (called[1].at - called[0].at), 0.0)
    if values[1] + rate * (context.at - called[1].at) >= due:
        return True
    if rate > 0.0:
        context.wake_at(called[1].at + (due - values[1]) / rate)
    return False


def ask_in_danger(context: EventContext) -> None:
    """While a danger stands: the gauge that would end it, every minute, and the others in time."""
    if not isinstance(context.event, Tick) or context.spoke:
        return
    if any(alarm.name == NO_GLASS for alarm in context.state.watch.alarms):
        return  # there is none to be read
    standing = [a.rule.reads for a in context.state.watch.alarms if a.rule.grade is Grade.DANGER]
    for what in sorted(("water", "pressure"), key=lambda gauge: gauge not in standing):
        since = PATIENCE_S if what in standing else 2.0 * _interval(context)
        old = context.elapsed(_called_at(context, what), since)
        if old and context.elapsed(context.state.asking_at, PATIENCE_S):
            asking.ask(context, what)
            return


def age_s(context: EventContext, what: str) -> float:
    """Seconds since the last reading of it, or since the list began."""
    return context.at - _called_at(context, what)


def _called_at(context: EventContext, what: str) -> float:
    """When it was read last, or the list began [s].

    A gauge at rest is not read anew because the match was put to the fire.
    """
    seen, lit = context.state.latest(what), context.state.lit_at
    called = seen.at if seen else context.state.progress.began_at
    return called if lit is None else max(called, lit)


def _gauge(context: EventContext, back: int = 1) -> float:
    """The last pressure called but `back - 1` [Pa gauge], 0 when there is none."""
    called = context.state.seen.of("pressure")
    return (
        (measure(called[-back].report, context.parts.engine) or 0.0) if len(called) >= back else 0.0
    )


def _interval(context: EventContext) -> float:
    return ASK_READING_AFTER * context.parts.engine.water_interval_s * _rarer(context)


def _rarer(context: EventContext) -> float:
    if _gauge(context) > 0.0:
        return 1.0
    return WARM if context.believed(lambda outlook: outlook.near_boiling, False) else COLD


def offer(context: EventContext) -> None:
    """Work that can be done while the pressure rises, once, with the minutes there are for it."""
    step = position.offered(context.state.progress)
    state = context.state
    if step is None or state.asking is not None or context.spoke or state.offered == step.id:
        return
    if not context.elapsed(state.quiet_until):
        return
    minutes = _minutes_left(context)
    if minutes is not None and minutes < step.minutes:
        if not forecast.only_nearer(state.belief):
            context.wake_at(context.at)
        return
    context.update(
        offered=step.id,
        progress=position.put_step(state.progress, step),
        asked_at=context.at,
        asked_since=context.at,
        asked_times=1,
    )
    context.fact(StepAsked(state.phase.value, step.id))
    prompt = walkthrough.step(step.say, step.caution)
    context.say(forecast_words.meanwhile(minutes, prompt) if minutes else prompt)


def _minutes_left(context: EventContext) -> float | None:
    """Until the gauge reaches the next step, as forecast; None when that cannot be told."""
    waits = position.waits_for(context.state.progress)
    if waits is None or waits.due is None:
        return None
    try:
        band = forecast.minutes_to(
            context.state.belief, level(waits.due, context.parts.engine)
        ).band
    except Exception as bug:
        context.failed(bug)
        return None
    return band.mid if band is not None else None
