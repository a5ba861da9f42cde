"""What is said unasked in steam: forecasts, requests for readings, work for the waiting time.

Looks at the list only so as not to ask what a step asks anyway.
"""

from __future__ import annotations

from assistant.alarms.lifecycle import Alarm
from assistant.alarms.water_rules import UNREAD
from assistant.belief import estimate, forecast, water_forecast
from assistant.dialogue import asking, lessons, no_minutes, time_to_pressure
from assistant.dialogue.agenda import step_words, water_forbids
from assistant.dialogue.conversation import Loud, loud_now
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import boiler, needs, told, work
from assistant.dialogue.picture_now import picture_now
from assistant.dialogue.state import STEP
from assistant.dialogue.why_water_moves import cause_of, is_swollen
from assistant.messages import ForecastMade, Grade, Report, StepAsked, Urgency
from assistant.picture.glass import BROKEN
from assistant.picture.heat import BURNING
from assistant.procedure import position
from assistant.procedure.checklist import Phase
from assistant.procedure.scale import measure
from assistant.wording import forecast_words

PATIENCE_S = 60.0  # a question is put again after this, then after twice as long each time
ASK_READING_AFTER = 0.8  # of the engine's interval, so that the call comes before it is overdue
LOOK_EARLY_S = 90.0  # least interval when the next step is believed due
FORECAST_EVERY_S = 240.0
NEWS = 0.15  # relative change at which a forecast is said again
TOO_SHORT_MIN = 3.0  # below this the gauge itself tells
PLANNED_FROM = 0.1  # of working pressure: below it a forecast is not taken as the plan. Judgement
MOVED = 0.02  # of working pressure: the gauge has moved
VALVE_AGAIN_S = 600.0  # lifts closer together than this: the fire is too strong. Judgement
LATE = 1.1  # factor on the late end of the forecast. Judgement
WATER_GROUPS = frozenset({"water low", "leak", "no feed", "glass dead", "glass broken"})
STEAM = frozenset({Phase.RAISING_STEAM, Phase.TICK_OVER, Phase.PUMPING, Phase.STANDING_BY})


def tell_forecasts(context: EventContext) -> None:
    """After a pressure the time to working pressure, after a glass reading how the water moves."""
    context.or_none(lambda: _tell_forecasts(context))


def _tell_forecasts(context: EventContext) -> None:
    subjects = {report.what for report in context.accepted}
    raising = context.state.phase is Phase.RAISING_STEAM
    if "pressure" in subjects and raising:
        _tell_time(context)
    if "water" in subjects:
        _tell_trend(context)
    if Report("valve", "lifting") in context.accepted:
        _warn_of_lifts(context)
    if Report("fire", "lit") in context.accepted or _burns_untimed(context):
        _expect_first_steam(context)


def _tell_time(context: EventContext) -> None:
    if no_minutes.why_not(context):
        return
    state = context.state
    before, since = state.told.forecast, context.at - state.told.forecast_at
    made = time_to_pressure.forecast_time(context)
    moved = _gauge(context) > 0.0
    first = moved and made.mid is not None and _gauge(context, 2) == 0.0
    plannable = _gauge(context) >= PLANNED_FROM * context.config.engine.working_pressure_gauge_pa
    if state.told.plan_at is None and plannable and made.mid is not None and made.high is not None:
        within = 60.0 * (made.high - made.mid)
        told.plan(context, context.at + 60.0 * made.mid, within)
    if before is None or first or (moved and _is_news(before, made, since)):
        context.say(time_to_pressure.time_words(context, made), Urgency.CHAT)
        if not context.alarmed:
            told.because(context, made.why)
    else:
        told.forecast(context, before, state.told.forecast_at)


def _warn_of_lifts(context: EventContext) -> None:
    """Warn, once in five minutes at most, of a valve that keeps lifting: it wastes water."""
    lifts = [s.at for s in context.state.reports if s.report == Report("valve", "lifting")]
    if len(lifts) < 2 or lifts[-1] - lifts[-2] > VALVE_AGAIN_S:
        return
    if context.at - context.state.told.valve_warned_at < VALVE_AGAIN_S / 2:
        return
    told.valve_warned(context)
    told.because(context, forecast_words.valve_why())
    damper_shut = context.state.latest_is("damper", "shut")
    words = forecast_words.valve_again(damper_shut, water_forbids.feed_enough(context))
    context.say(words, Urgency.CHAT)


def _burns_untimed(context: EventContext) -> bool:
    """Whether a fire was just told to burn whose lighting was not, under a gauge at rest."""
    burns = any(r.what == "fire" and r.value in BURNING for r in context.accepted)
    return burns and context.state.told.first_steam_by is None and _gauge(context) == 0.0


def _expect_first_steam(context: EventContext) -> None:
    """The latest time at which the gauge should move: forecast when the fire is lit, or, where it
    was not told when, as if it were now.
    """
    moved = MOVED * context.config.engine.working_pressure_gauge_pa
    belief = context.state.belief
    if Report("fire", "lit") not in context.accepted:
        belief = estimate.update(belief, Report("fire", "lit"), context.at)
    band = forecast.minutes_to(belief, moved).band
    by = None if band is None else context.at + LATE * 60.0 * band.high
    told.first_steam_by(context, by)


def _is_news(before: ForecastMade, made: ForecastMade, since_s: float) -> bool:
    """Worth saying unasked: at most once in four minutes, and only a change that matters."""
    if since_s < FORECAST_EVERY_S or (made.mid is not None and made.mid < TOO_SHORT_MIN):
        return False
    if before.mid is None or made.mid is None:
        return before.mid is not made.mid
    due = max(before.mid - since_s / 60.0, 1.0)
    return abs(made.mid - due) > max(NEWS * due, 2.0) or since_s >= 3 * FORECAST_EVERY_S


def _tell_trend(context: EventContext) -> None:
    """Say how the water moves when that is new and two glass readings show it."""
    if is_swollen(context):
        context.say(forecast_words.swollen(), Urgency.ANSWER)
        return
    trend = water_forecast.water_trend(context.state.belief)
    if context.at < picture_now(context).compares_from:
        return  # on a slope, or blown down: no level is compared
    now = trend.word, cause_of(context, trend.cause)
    told.trend(context, now)
    shown = trend.word in ("rising", "falling") and trend.word == _glass_movement(context)
    alarms = trend.cause == "loss" or (trend.cause == "unknown" and _warned_of_water(context))
    alarms = alarms or (now[1] == "feed" and water_forbids.near_the_top(context))
    unread = picture_now(context).water.value in UNREAD
    if not shown or now == context.state.told.trend_announced or alarms or unread:
        return
    context.say(_trend_words(context, *now), Urgency.CHAT)
    told.because(context, forecast_words.trend_reason(trend.why))
    told.trend_announced(context, now)


def _warned_of_water(context: EventContext) -> bool:
    """Whether an alarm says what is wrong with the water: a puzzled word beside it helps nobody."""
    groups = {a.rule.group for a in context.state.watch.spoken() if a.rule.grade > Grade.CAUTION}
    return bool(groups & WATER_GROUPS)


def _trend_words(context: EventContext, word: str, cause: str) -> str:
    """How the water moves; what rises unfed over a fire with the gauge still tells of heat."""
    picture = picture_now(context)
    rests = not picture.gauge.moved or picture.gauge.still_since is not None
    unfed = picture.feeds.running_since is None and rests
    if (word, cause) == ("rising", "unknown") and unfed and picture.fire.burning:
        return forecast_words.rising_over_a_gauge_at_rest()
    return forecast_words.water_trend_words(word, cause)


def _glass_movement(context: EventContext) -> str:
    """How the last two readings of the glass differ."""
    waters = [s.report for s in context.state.reports if s.report.what == "water"][-2:]
    values = [measure(report, context.config.engine) for report in waters]
    if len(values) < 2 or values[0] is None or values[1] is None or values[0] == values[1]:
        return "steady"
    return "rising" if values[1] > values[0] else "falling"


def is_wanted(context: EventContext, what: str) -> bool:
    """Whether a reading is to be asked for: due, or due early because it brings the next step.

    Beside a danger the gauge that ends it every minute, the other at twice the interval.
    """
    if what == "water" and context.state.watch.stands(BROKEN):
        return False  # there is nothing to read
    if what == "pressure" and not_called_since_a_break(context):
        return True
    called = _awaited_since(context, what)
    if context.state.watch.danger:
        alarms = context.state.watch.alarms
        ending = [_ended_by(alarm) for alarm in alarms if alarm.rule.grade is Grade.DANGER]
        return context.elapsed(called, PATIENCE_S if what in ending else 2.0 * _interval(context))
    if picture_now(context).water.interval_s is None:
        return False
    if asking.called_wrong(context, what):
        return True
    if what == "water" and _proved_and_not_called(context):
        return True
    just_called = any(report.what == "pressure" for report in context.accepted)
    if just_called and what == "water":
        return context.elapsed(called, 0.5 * _interval(context))
    early = (
        what == "pressure" and context.elapsed(called, LOOK_EARLY_S) and _step_believed_due(context)
    )
    return early or context.elapsed(called, _interval(context))


def _proved_and_not_called(context: EventContext) -> bool:
    """Whether the glass is proved after a doubt, and was not called since: no level is known."""
    seen = picture_now(context)
    return seen.water.value == "unproved" and seen.glass.reads_from is not None


def not_called_since_a_break(context: EventContext) -> bool:
    """Whether over heat nobody has called the pressure since we were away: it may be anything."""
    resumed_at, called = context.state.clock.resumed_at, context.state.latest("pressure")
    if resumed_at is None or picture_now(context).water.interval_s is None:
        return False
    return called is None or called.at < resumed_at


def _ended_by(alarm: Alarm) -> str:
    """The gauge whose reading ends a danger."""
    return alarm.rule.gauge or ("water" if alarm.rule.group == "water low" else "")


def _step_believed_due(context: EventContext) -> bool:
    """Whether the next step that waits for pressure is due, by belief or by the last two calls."""
    due = position.next_due(context.state.progress)
    if due is None or _gauge(context) <= 0.0:
        return False
    now = boiler.estimated(context, lambda estimates: estimates.pressure, None)
    return (now is not None and now.mid >= due) or _reached_by_the_calls(context, due)


def _reached_by_the_calls(context: EventContext, due: float) -> bool:
    """Whether a pressure [Pa gauge] is reached by now at the rate between the last two calls."""
    called = [s for s in context.state.reports if s.report.what == "pressure"][-2:]
    values = [measure(s.report, context.config.engine) or 0.0 for s in called]
    if len(called) < 2 or called[1].at - called[0].at < LOOK_EARLY_S / 2:
        return False
    rate = max((values[1] - values[0]) / (called[1].at - called[0].at), 0.0)
    if values[1] + rate * (context.at - called[1].at) >= due:
        return True
    if rate > 0.0:
        context.wake_at(called[1].at + (due - values[1]) / rate)
    return False


def age_s(context: EventContext, what: str) -> float:
    """Seconds since the last reading of it, or since the list began."""
    return context.at - _called_at(context, what)


def _called_at(context: EventContext, what: str) -> float:
    """When it was last read, or the list began [s]."""
    latest = context.state.latest(what)
    return latest.at if latest else context.state.progress.began_at


def _awaited_since(context: EventContext, what: str) -> float:
    """From when its next reading is awaited [s]: by the picture, else from the lighting on."""
    called_at = _called_at(context, what)
    later = context.state.lit_at
    if what == "water":
        later = picture_now(context).water.awaited_since
    return called_at if later is None else max(called_at, later)


def _gauge(context: EventContext, back: int = 1) -> float:
    """The pressure called last, or `back` calls ago counting from 1 [Pa gauge]; 0 for none."""
    called = context.state.reports.of("pressure")
    if len(called) < back:
        return 0.0
    return measure(called[-back].report, context.config.engine) or 0.0


def _interval(context: EventContext) -> float:
    """How long after the last reading the next is asked for [s]."""
    every_s = picture_now(context).water.interval_s
    return ASK_READING_AFTER * (every_s or context.config.engine.water_interval_s)


def offer(context: EventContext) -> None:
    """Offer work that fits the time until the next step, once, and say how long that is."""
    step = position.offered(context.state.progress)
    state = context.state
    if (
        step is None
        or state.reading_asked is not None
        or context.spoke
        or state.procedure.offered == step.id
    ):
        return
    if loud_now(context) is Loud.QUIET:
        return
    minutes = _minutes_left(context)
    if minutes is not None and minutes < step.minutes:
        if not forecast.only_nearer(state.belief):
            context.wake_at(context.at)
        return
    work.offer(context, step.id)
    work.come_to(context, position.put_step(state.progress, step))
    lessons.step_put(context, step)
    needs.put(context, STEP + step.id, step.id, again=False)
    context.record(StepAsked(state.phase.value, step.id))
    prompt = step_words.prompt(context, step)
    context.say(forecast_words.meanwhile(minutes, prompt) if minutes else prompt)


def _minutes_left(context: EventContext) -> float | None:
    """Until the gauge reaches the next step, as forecast; None when that cannot be told."""
    waits = position.next_waiting(context.state.progress)
    if waits is None or waits.due is None:
        return None
    due, engine, belief = waits.due, context.config.engine, context.state.belief
    due_pa = position.due_gauge_pa(due, engine)
    minutes = context.or_none(lambda: forecast.minutes_to(belief, due_pa))
    return None if minutes is None or minutes.band is None else minutes.band.mid
