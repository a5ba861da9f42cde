"""The walk-through: answers to steps, the next step, phases, and what is asked while waiting.

Decides what the list does with this event; knows nothing of how a thing was heard.
"""

from __future__ import annotations

from assistant.boiler import forecast
from assistant.messages import (
    Expected,
    ForecastMade,
    Meaning,
    Order,
    PhaseBegan,
    PhaseDone,
    Report,
    StepAsked,
    StepDone,
    Tick,
    Urgency,
)
from assistant.procedure import cures, flow
from assistant.procedure import progress as steps
from assistant.procedure.checklist import Checklist, Phase, Step
from assistant.procedure.measure import measure
from assistant.talk import telling, walking, wording
from assistant.talk.readback import reports_in
from assistant.turn import questions
from assistant.turn.turn import Turn

PATIENCE_S = 60.0  # a step is put again after this and its own expected time
ASK_READING_AFTER = 0.8  # of the engine's interval, so that the call comes before it is overdue
FORECAST_EVERY_S = 240.0
NEWS = 0.15  # a forecast is said again when it is off the last one by so much
STEAM = frozenset({Phase.RAISING_STEAM, Phase.TICK_OVER, Phase.PUMPING, Phase.STANDING_BY})
READINGS = ("pressure", "water", "tank")


def begin_phase(turn: Turn, phase: Phase) -> None:
    """Take up the list of a phase, with the open items that earlier phases left."""
    checklist = turn.parts.list_of(phase)
    assert checklist is not None  # the files were checked before the session began
    carried = tuple(
        step
        for step in steps.open_items(turn.mind.progress)
        if turn.mind.progress.checklist is not checklist
    )
    begun = steps.begin(checklist, turn.parts.engine, turn.at, carried)
    turn.now(phase=phase, progress=begun, asked_times=0, offered=None)
    turn.fact(PhaseBegan(phase.value))
    turn.say(checklist.opening or walking.phase_began(phase.value))


def proceed(turn: Turn) -> None:
    """Everything the list does in this event, in order: answers, phase, next step, waiting."""
    if turn.mind.over:
        return
    _notice(turn)
    _take_up_cure(turn)
    _answers(turn)
    for _ in range(len(Phase)):
        if not _phase_over(turn):
            break
    if turn.mind.over or turn.mind.doubt is not None:
        return
    _put_step(turn)
    _while_waiting(turn)


def _notice(turn: Turn) -> None:
    seen = turn.mind.latest("pressure")
    gauge = measure(seen.report, turn.parts.engine) if seen else None
    turn.now(progress=steps.notice(turn.mind.progress, gauge))


def _answers(turn: Turn) -> None:
    meanings: list[Meaning] = [*turn.taken, *([Order("ready")] if turn.ready else [])]
    for meaning in meanings:
        outcome = steps.answer(turn.mind.progress, meaning, turn.at)
        reopened = bool(outcome.reopened)
        turn.now(progress=outcome.progress, asked_times=0 if reopened else turn.mind.asked_times)
        for done in outcome.done:
            turn.fact(StepDone(turn.mind.phase.value, done.step, done.answer))
        turn.say(outcome.say, Urgency.ANSWER)


def _take_up_cure(turn: Turn) -> None:
    """A fault was named ("pump trouble"): its checks come first, the list in hand waits."""
    for report in turn.taken:
        cure = cures.called(turn.parts.cures, report)
        if cure is not None:
            turn.say(cure.opening or walking.phase_began(cure.title))
            park(turn, cure)


def park(turn: Turn, cure: Checklist) -> None:
    """Take up a list in between; the one in hand waits."""
    parked = turn.mind.parked or (turn.mind.progress,)
    begun = steps.begin(cure, turn.parts.engine, turn.at)
    turn.now(parked=parked, progress=begun, asked_times=0)


def _end_cure(turn: Turn) -> bool:
    """When it is cured, or the checks are through: back to the list they interrupted."""
    came_to = cures.outcome(turn.mind.progress)
    if came_to is None:
        return False
    cure, (before,) = turn.mind.progress.checklist, turn.mind.parked
    turn.now(progress=before, parked=(), asked_times=0)
    turn.say(
        cure.closing if came_to == "not cured" and cure.closing else "Cured. Back to the list."
    )
    return True


def _phase_over(turn: Turn) -> bool:
    """End the phase if everything in it is answered, and begin the next; whether it did."""
    mind = turn.mind
    if mind.parked:
        return mind.doubt is None and _end_cure(turn)
    if mind.doubt is not None or not steps.can_leave(mind.progress):
        return False
    following = flow.next_phase(mind.phase, flow.facts(mind.progress))
    if following is None or turn.parts.list_of(following) is None:
        return False
    turn.fact(PhaseDone(mind.phase.value))
    items = [step.id for step in steps.open_items(mind.progress)]
    closing = mind.progress.checklist.closing
    turn.say(walking.phase_done(mind.phase.value, items) if items or not closing else closing)
    begin_phase(turn, following)
    _notice(turn)
    return True


def _put_step(turn: Turn) -> None:
    """Put the step in hand: at once when it is new, again when its time has long passed."""
    mind = turn.mind
    step = steps.current(mind.progress)
    if step is None:
        return
    hand = steps.in_hand(mind.progress)
    if (
        hand is not None
        and hand.id != step.id
        and not hand.waiting
        and steps.is_due(mind.progress, hand)
    ):
        step = hand
    fresh = mind.progress.asked != step.id or mind.asked_times == 0
    if not fresh and not _impatient(turn, step):
        return
    if turn.at < mind.quiet_until and not fresh:
        return
    turn.now(
        progress=steps.ask(mind.progress, step),
        asked_at=turn.at,
        asked_times=1 if fresh else mind.asked_times + 1,
        why="" if fresh else mind.why,
    )
    if fresh:
        turn.fact(StepAsked(mind.phase.value, step.id))
    turn.say(walking.step(step.say, step.caution if fresh else ""))


def _impatient(turn: Turn, step: Step) -> bool:
    mind = turn.mind
    patience = (PATIENCE_S + 60.0 * step.minutes) * max(1, mind.asked_times)
    return isinstance(turn.event, Tick) and turn.at - mind.asked_at >= patience


def _while_waiting(turn: Turn) -> None:
    """Forecasts, the readings that are wanted, and work for idle hands."""
    mind = turn.mind
    if mind.phase not in STEAM and not mind.fire_in:
        return
    _forecast(turn)
    if turn.at < mind.quiet_until:
        return
    _ask_reading(turn)
    _offer(turn)


def _forecast(turn: Turn) -> None:
    """After a pressure: the time to working pressure; after a water: by what it moves."""
    told = {report.what for report in turn.taken}
    mind = turn.mind
    if "pressure" in told and mind.phase is Phase.RAISING_STEAM:
        before, since = mind.forecast, turn.at - mind.forecast_at
        made = questions.tell_time(turn)
        if mind.plan_at is None and made.mid is not None and mind.seen[-1].report.value != 0:
            turn.now(plan_at=turn.at + 60.0 * made.mid)
        if _is_news(before, made, since):
            turn.say(questions.time_words(turn, made), Urgency.CHAT)
        else:
            turn.now(forecast=before, forecast_at=mind.forecast_at)
    if "water" in told:
        trend = forecast.water_trend(mind.belief)
        now = (trend.word, trend.cause)
        if now != mind.trend and trend.word in ("rising", "falling"):
            turn.say(telling.water_trend(*now), Urgency.CHAT)
            turn.now(why=trend.why)
        turn.now(trend=now)


def _is_news(before: ForecastMade | None, made: ForecastMade, since_s: float) -> bool:
    """Worth saying unasked: the first, then one in four minutes at most, and only a change."""
    if before is None:
        return True
    if since_s < FORECAST_EVERY_S or made.mid == 0:
        return False
    if before.mid is None or made.mid is None:
        return before.mid is not made.mid
    due = max(before.mid - since_s / 60.0, 1.0)
    return abs(made.mid - due) > max(NEWS * due, 2.0) or since_s >= 3 * FORECAST_EVERY_S


def _ask_reading(turn: Turn) -> None:
    """Ask for pressure, then water, before they are overdue; half as often on a cold gauge."""
    mind = turn.mind
    hand = steps.in_hand(mind.progress)
    if hand is not None and hand.kind == "value" and hand.asks in READINGS:
        return
    if any(report.what == "pressure" for report in turn.taken):
        if _age(turn, "water") >= 0.5 * _interval(turn):
            _ask_for(turn, "water")
        return
    if turn.spoke or turn.at - mind.asking_at < PATIENCE_S:
        return
    for what in ("pressure", "water"):
        if _age(turn, what) >= _interval(turn):
            _ask_for(turn, what)
            return


def _ask_for(turn: Turn, what: str) -> None:
    turn.now(asking=what, asking_at=turn.at)
    turn.say(wording.ask(what))


def _age(turn: Turn, what: str) -> float:
    """Seconds since the last reading of it, or since the list began."""
    seen = turn.mind.latest(what)
    return turn.at - (seen.at if seen else turn.mind.progress.began_at)


def _interval(turn: Turn) -> float:
    seen = turn.mind.latest("pressure")
    cold = seen is None or seen.report.value == 0
    return ASK_READING_AFTER * turn.parts.engine.water_interval_s * (2.0 if cold else 1.0)


def _offer(turn: Turn) -> None:
    """Work that can be done while the pressure rises."""
    step = steps.offered(turn.mind.progress)
    if step is None or turn.mind.asking is not None or turn.spoke:
        return
    if turn.mind.offered == step.id:
        return
    waits = steps.waits_for(turn.mind.progress)
    minutes = None
    if waits is not None and turn.mind.forecast is not None:
        minutes = turn.mind.forecast.mid
    turn.now(
        offered=step.id,
        progress=steps.ask(turn.mind.progress, step),
        asked_at=turn.at,
        asked_times=1,
    )
    turn.fact(StepAsked(turn.mind.phase.value, step.id))
    prompt = walking.step(step.say, step.caution)
    turn.say(telling.meanwhile(minutes, prompt) if minutes else prompt)


def _answers_now(turn: Turn) -> tuple[tuple[str, Report], ...]:
    """The step's own words and those that call up a cure; a form counts once."""
    found = dict(steps.answers(turn.mind.progress))
    for form, report in cures.calls(turn.parts.cures):
        found.setdefault(form, report)
    return tuple(found.items())


def expected(turn: Turn) -> Expected:
    """What is to be listened for after this event."""
    mind = turn.mind
    answers, about = _answers_now(turn), _about(turn)
    if mind.doubt is not None and (mind.doubt.rival is None or about is None):
        return Expected("answer", answers, about, turn.parts.dial)
    if mind.doubt is not None:
        return Expected(about, answers, about, turn.parts.dial)  # type: ignore[arg-type]
    if mind.asking in READINGS:
        return Expected(mind.asking, answers, about, turn.parts.dial)  # type: ignore[arg-type]
    hand = steps.in_hand(mind.progress)
    if hand is not None and hand.kind == "value" and hand.asks in READINGS:
        return Expected(hand.asks, answers, about, turn.parts.dial)  # type: ignore[arg-type]
    return Expected("state" if answers else "any", answers, about, turn.parts.dial)


def _about(turn: Turn) -> str | None:
    """The reading that a "wrong, sixty five" would be about: the doubted one, or the last."""
    mind = turn.mind
    if mind.doubt is not None:
        doubted = [r.what for r in reports_in(mind.doubt.meaning) if r.what in READINGS]
        return doubted[0] if doubted else None
    recent = mind.seen[-1] if mind.seen and turn.at - mind.seen[-1].at < PATIENCE_S else None
    return recent.report.what if recent and recent.report.what in READINGS else None
