"""What is said unasked while the boiler works: forecasts, the readings wanted, work for idle hands.

Knows the list only to keep out of its way: a question that a step asks anyway is not put twice.
"""

from __future__ import annotations

from assistant.belief import forecast
from assistant.dialogue import asking, time_to_pressure
from assistant.dialogue.event_context import Turn
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


def forecasts(turn: Turn) -> None:
    """After a pressure: the time to working pressure; after a water: by what it moves."""
    told = {report.what for report in turn.taken}
    try:
        if "pressure" in told and turn.mind.phase is Phase.RAISING_STEAM:
            _time_to_pressure(turn)
        if "water" in told:
            _water_moves(turn)
        if Report("valve", "lifting") in turn.taken:
            _valve_again(turn)
        if Report("fire", "lit") in turn.taken:
            _first_steam(turn)
    except Exception as bug:
        turn.failed(bug)


def _time_to_pressure(turn: Turn) -> None:
    mind = turn.mind
    before, since = mind.forecast, turn.at - mind.forecast_at
    made = time_to_pressure.tell_time(turn)
    moved = _gauge(turn) > 0.0
    first = moved and made.mid is not None and _gauge(turn, 2) == 0.0
    footing = _gauge(turn) >= PLANNED_FROM * turn.parts.engine.working_pressure_gauge_pa
    if mind.plan_at is None and footing and made.mid is not None and made.high is not None:
        within = 60.0 * (made.high - made.mid)
        turn.now(plan_at=turn.at + 60.0 * made.mid, plan_within_s=within)
    if before is None or first or (moved and _is_news(before, made, since)):
        turn.say(time_to_pressure.time_words(turn, made), Urgency.CHAT)
        turn.now(why=turn.mind.why if turn.alarmed else made.why)
    else:
        turn.now(forecast=before, forecast_at=mind.forecast_at)


def _valve_again(turn: Turn) -> None:
    """A valve that lifts when it has been proved blows water away: said, one in some minutes."""
    lifts = [s.at for s in turn.mind.seen if s.report == Report("valve", "lifting")]
    if len(lifts) < 2 or lifts[-1] - lifts[-2] > VALVE_AGAIN_S:
        return
    if turn.at - turn.mind.valve_told_at < VALVE_AGAIN_S / 2:
        return
    turn.now(valve_told_at=turn.at, why=forecast_words.valve_why())
    turn.say(forecast_words.valve_again(turn.mind.latest_is("damper", "shut")), Urgency.CHAT)


def _first_steam(turn: Turn) -> None:
    """By when the gauge should move, as it is expected when the fire is lit."""
    moves = MOVED * turn.parts.engine.working_pressure_gauge_pa
    band = forecast.minutes_to(turn.mind.belief, moves).band
    by = None if band is None else turn.at + LATE * 60.0 * band.high
    turn.now(first_steam_by=by)


def _is_news(before: ForecastMade, made: ForecastMade, since_s: float) -> bool:
    """Worth saying unasked: one in four minutes at most, and only a change that matters."""
    if since_s < FORECAST_EVERY_S or (made.mid is not None and made.mid < TOO_SHORT_MIN):
        return False
    if before.mid is None or made.mid is None:
        return before.mid is not made.mid
    due = max(before.mid - since_s / 60.0, 1.0)
    return abs(made.mid - due) > max(NEWS * due, 2.0) or since_s >= 3 * FORECAST_EVERY_S


def _water_moves(turn: Turn) -> None:
    """Told when it is new, and when the glass itself shows it: two readings that differ.

    That water is lost somewhere is told only when a second reading says so too.
    """
    trend = forecast.water_trend(turn.mind.belief)
    before, now = turn.mind.trend, (trend.word, trend.cause)
    turn.now(trend=now)
    seen = trend.word in ("rising", "falling") and trend.word == _seen_to_move(turn)
    told = turn.mind.trend_told
    if not seen or now == told or (trend.cause == "loss" and now != before):
        return
    turn.say(forecast_words.water_trend(*now), Urgency.CHAT)
    turn.now(why=forecast_words.trend_reason(trend.why), trend_told=now)


def _seen_to_move(turn: Turn) -> str:
    waters = [s.report for s in turn.mind.seen if s.report.what == "water"][-2:]
    values = [measure(report, turn.parts.engine) for report in waters]
    if len(values) < 2 or values[0] is None or values[1] is None or values[0] == values[1]:
        return "steady"
    return "rising" if values[1] > values[0] else "falling"


def ask_readings(turn: Turn, coming: Step | None) -> None:
    """Ask for pressure, then water, before they are overdue. coming: the step to be put next."""
    if not turn.passed(turn.mind.quiet_until):
        return
    if any(report.what == "pressure" for report in turn.taken):
        if age_s(turn, "water") >= 0.5 * _interval(turn) and not _asked_by(turn, "water", coming):
            asking.ask(turn, "water")
        return
    if not isinstance(turn.event, Tick) or turn.spoke:
        return
    wanted = [what for what in ("pressure", "water") if _is_wanted(turn, what)]
    other = [what for what in wanted if what != turn.mind.asking]
    if other and (turn.mind.asking is None or _other_now(turn)):
        asking.ask(turn, other[0])
    elif wanted and _tired(turn):
        asking.ask(turn, wanted[0])


def _other_now(turn: Turn) -> bool:
    """In the first round the other gauge is asked for soon; after that nobody is nagged."""
    first = turn.mind.asking_times < 2
    return turn.passed(turn.mind.asking_at, OTHER_AFTER_S) if first else _tired(turn)


def _is_wanted(turn: Turn, what: str) -> bool:
    if _asked_by(turn, what, None):
        return False
    called = _called_at(turn, what)
    early = what == "pressure" and turn.passed(called, LOOK_EARLY_S) and _step_believed_due(turn)
    return early or turn.passed(called, _interval(turn))


def _asked_by(turn: Turn, what: str, coming: Step | None) -> bool:
    """Whether a step asks for this very reading."""
    hand = position.in_hand(turn.mind.progress)
    return any(s is not None and s.kind == "value" and s.asks == what for s in (hand, coming))


def _tired(turn: Turn) -> bool:
    """Long enough ago to put the same question again."""
    patience = min(PATIENCE_S * 2.0 ** max(turn.mind.asking_times - 1, 0), MOST_PATIENCE_S)
    return turn.passed(turn.mind.asking_at, patience)


def _step_believed_due(turn: Turn) -> bool:
    """The next step that waits for pressure has come up, by the belief or by the last two calls."""
    due = position.next_due(turn.mind.progress)
    if due is None or _gauge(turn) <= 0.0:
        return False
    now = turn.believed(lambda outlook: outlook.pressure, None)
    return (now is not None and now.mid >= due) or _reached_by_the_calls(turn, due)


def _reached_by_the_calls(turn: Turn, due: float) -> bool:
    """Whether a pressure [Pa gauge] is reached if it went on as between the last two calls."""
    called = [s for s in turn.mind.seen if s.report.what == "pressure"][-2:]
    values = [measure(s.report, turn.parts.engine) or 0.0 for s in called]
    if len(called) < 2 or called[1].at - called[0].at < LOOK_EARLY_S / 2:
        return False
    rate = max((values[1] - values[0]) / (called[1].at - called[0].at), 0.0)
    if values[1] + rate * (turn.at - called[1].at) >= due:
        return True
    if rate > 0.0:
        turn.asks_again(called[1].at + (due - values[1]) / rate)
    return False


def ask_in_danger(turn: Turn) -> None:
    """While a danger stands: the gauge that would end it, every minute, and the others in time."""
    if not isinstance(turn.event, Tick) or turn.spoke:
        return
    if any(alarm.name == NO_GLASS for alarm in turn.mind.watch.alarms):
        return  # there is none to be read
    standing = [a.rule.reads for a in turn.mind.watch.alarms if a.rule.grade is Grade.DANGER]
    for what in sorted(("water", "pressure"), key=lambda gauge: gauge not in standing):
        since = PATIENCE_S if what in standing else 2.0 * _interval(turn)
        old = turn.passed(_called_at(turn, what), since)
        if old and turn.passed(turn.mind.asking_at, PATIENCE_S):
            asking.ask(turn, what)
            return


def age_s(turn: Turn, what: str) -> float:
    """Seconds since the last reading of it, or since the list began."""
    return turn.at - _called_at(turn, what)


def _called_at(turn: Turn, what: str) -> float:
    """When it was read last, or the list began [s].

    A gauge at rest is not read anew because the match was put to the fire.
    """
    seen, lit = turn.mind.latest(what), turn.mind.lit_at
    called = seen.at if seen else turn.mind.progress.began_at
    return called if lit is None else max(called, lit)


def _gauge(turn: Turn, back: int = 1) -> float:
    """The last pressure called but `back - 1` [Pa gauge], 0 when there is none."""
    called = turn.mind.seen.of("pressure")
    return (measure(called[-back].report, turn.parts.engine) or 0.0) if len(called) >= back else 0.0


def _interval(turn: Turn) -> float:
    return ASK_READING_AFTER * turn.parts.engine.water_interval_s * _rarer(turn)


def _rarer(turn: Turn) -> float:
    if _gauge(turn) > 0.0:
        return 1.0
    return WARM if turn.believed(lambda outlook: outlook.near_boiling, False) else COLD


def offer(turn: Turn) -> None:
    """Work that can be done while the pressure rises, once, with the minutes there are for it."""
    step = position.offered(turn.mind.progress)
    mind = turn.mind
    if step is None or mind.asking is not None or turn.spoke or mind.offered == step.id:
        return
    if not turn.passed(mind.quiet_until):
        return
    minutes = _minutes_left(turn)
    if minutes is not None and minutes < step.minutes:
        if not forecast.only_nearer(mind.belief):
            turn.asks_again(turn.at)
        return
    turn.now(
        offered=step.id,
        progress=position.ask(mind.progress, step),
        asked_at=turn.at,
        asked_since=turn.at,
        asked_times=1,
    )
    turn.fact(StepAsked(mind.phase.value, step.id))
    prompt = walkthrough.step(step.say, step.caution)
    turn.say(forecast_words.meanwhile(minutes, prompt) if minutes else prompt)


def _minutes_left(turn: Turn) -> float | None:
    """Until the gauge reaches the next step, as forecast; None when that cannot be told."""
    waits = position.waits_for(turn.mind.progress)
    if waits is None or waits.due is None:
        return None
    try:
        band = forecast.minutes_to(turn.mind.belief, level(waits.due, turn.parts.engine)).band
    except Exception as bug:
        turn.failed(bug)
        return None
    return band.mid if band is not None else None
