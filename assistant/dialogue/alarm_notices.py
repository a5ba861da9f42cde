"""The watch's eyes and voice: shows it the engine as the session knows it, tells what it raises.

The rules are the watch's. Tone first, then its words, then at most three acts of an emergency.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import takewhile

from assistant.alarms import watch as watching
from assistant.alarms.inputs import AlarmInputs
from assistant.alarms.inputs import TimedValue as Sighted
from assistant.alarms.lifecycle import Change
from assistant.belief.estimate import mass_kg, temperature_at_k
from assistant.boiler.glass import shown_for
from assistant.boiler.scales import PSI_PA
from assistant.dialogue import asking
from assistant.dialogue.estimates import LazyEstimates
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.state import ReportLog, SessionState, TimedReport
from assistant.messages import READINGS, AlarmChanged, Grade, Hush, Report, Say, Tone, Urgency
from assistant.procedure.emergency import Emergency
from assistant.procedure.position import open_items
from assistant.procedure.scale import measure
from assistant.wording import alarm_words

BELIEVE_EVERY_S = 120.0
_ENOUGH = 12  # readings of one gauge that the watch needs
MOVED_PSI = 2.0  # from here on there is steam, and readings are wanted
OVERDUE = {"water reading overdue": "water", "pressure reading overdue": "pressure"}
SMALL_TALK = frozenset({"step left open"})  # raised in the middle of a conversation about it
URGENCY = {
    Grade.DANGER: Urgency.DANGER,
    Grade.WARNING: Urgency.ALARM,
    Grade.CAUTION: Urgency.ALARM,
}


def watch_and_tell(context: EventContext) -> None:
    """Let the watch look, and tell what changed."""
    seen = alarm_inputs(context)
    watch, changes = watching.look(context.state.watch, seen, context.at, context.retracted)
    context.wake_at(watching.next_deadline(watch, seen, context.at))
    if watch != context.state.watch:
        context.update(watch=watch)
    _tell(context, changes)


def alarm_inputs(context: EventContext) -> AlarmInputs:
    """The engine as the session knows it now."""
    state = context.state
    quick = _numbers(context, "pressure"), _numbers(context, "water"), _numbers(context, "tank")
    _believe(context)
    return AlarmInputs(
        context.parts.engine,
        state.phase.value,
        _steam_since(context),
        *quick,
        states=state.seen.once("states", _states),
        water_now=context.believed(lambda outlook: outlook.water, None),
        glass_moves=_glass_moves(context),
        plan_at=state.plan_at,
        forecast_at=_forecast_at(state),
        plan_within_s=state.plan_within_s + _forecast_within(state),
        first_steam_by=state.first_steam_by,
        emergencies=tuple(Sighted(s.report.value, s.at) for s in state.seen.of("emergency")),
        lost={name: Sighted(name, context.at) for name in sorted(state.lost)},
        left_open=tuple(step.id for step in open_items(state.progress)),
    )


def _believe(context: EventContext) -> None:
    """What is believed is looked at anew after a report and every two minutes.

    A sum that fails leaves it unknown: the alarms that need no sum are looked at all the same.
    """
    state = context.state
    if context.accepted or context.retracted or context.elapsed(state.believed_at, BELIEVE_EVERY_S):
        warm = state.fire_in or state.latest("pressure") is not None
        seen = state.latest("water") is not None
        context.update(
            believed_at=context.at, outlook=LazyEstimates(state.belief, warm, seen, state.fire_in)
        )


def _numbers(context: EventContext, what: str) -> tuple[Sighted, ...]:
    def newest(called: tuple[TimedReport, ...]) -> tuple[Sighted, ...]:
        return tuple(Sighted(_value(context, s.report), s.at) for s in called[-_ENOUGH:])

    return context.state.seen.once_of(what, newest)


def _value(context: EventContext, report: Report) -> float | str:
    value = measure(report, context.parts.engine)
    return str(report.value) if value is None else value


def _states(told: ReportLog) -> dict[str, Sighted]:
    """The last state of each thing that is no reading."""
    states = {what: told.once_of(what, _state) for what in told.subjects if what not in READINGS}
    return {what: state for what, state in states.items() if state is not None}


def _state(told: tuple[TimedReport, ...]) -> Sighted | None:
    """The last state of one thing, with the time it began, not the time it was last repeated."""
    state: Sighted | None = None
    for seen in told:
        value = seen.report.value
        if isinstance(value, str) and (state is None or state.value != value):
            state = Sighted(value, seen.at)
    return state


def _steam_since(context: EventContext) -> float | None:
    """From when readings are wanted: the first that shows steam, or taking over a warm engine.

    After a break from its end; never with the fire out and the gauge back at rest.
    """
    state = context.state
    since = state.warm_since
    if since is None:
        since = state.seen.once("first steam", lambda told: _first_steam(context, told))
    if since is None or _gone_cold(context):
        return None
    return since if state.resumed_at is None else max(since, state.resumed_at)


def _first_steam(context: EventContext, told: ReportLog) -> float | None:
    """When the gauge was first called with steam behind it."""
    called = ((measure(s.report, context.parts.engine) or 0.0, s.at) for s in told.of("pressure"))
    return next((at for gauge, at in called if gauge >= MOVED_PSI * PSI_PA), None)


def _gone_cold(context: EventContext) -> bool:
    """The fire is drawn or run down, and the last gauge reading shows no steam."""
    fire = context.state.latest("fire")
    if fire is None or fire.report.value not in ("drawn", "run down"):
        return False
    called = (
        measure(s.report, context.parts.engine) for s in reversed(context.state.seen.of("pressure"))
    )
    last = next((gauge for gauge in called if gauge is not None), None)
    return last is not None and last < MOVED_PSI * PSI_PA


def _glass_moves(context: EventContext) -> float | None:
    """By how much warming alone should have moved the glass since it first stood as it stands."""
    if not context.accepted or context.accepted[-1].what != "water":
        return None
    waters = [s for s in context.state.seen if s.report.what == "water"]
    still = list(takewhile(lambda s: s.report == waters[-1].report, reversed(waters)))
    if len(still) < 2:
        return None
    belief, engine = context.state.belief, context.parts.engine
    try:
        kg = mass_kg(belief)
        first, last = (
            shown_for(engine, kg, temperature_at_k(belief, s.at)) for s in (still[-1], still[0])
        )
    except Exception as bug:
        context.failed(bug)
        return None
    return last - first


def _forecast_at(state: SessionState) -> float | None:
    made = state.forecast
    if made is None or made.mid is None or state.plan_at is None:
        return None
    return state.forecast_at + 60.0 * made.mid


def _forecast_within(state: SessionState) -> float:
    """How far off the forecast that was told last may be by its own band [s]."""
    made = state.forecast
    if made is None or made.low is None or made.mid is None or made.high is None:
        return 0.0
    return 60.0 * max(made.high - made.mid, made.mid - made.low)


def _tell(context: EventContext, changes: Iterable[Change]) -> None:
    for change in changes:
        rule = change.rule
        if change.state in ("raised", "acknowledged", "shelved", "cleared"):
            context.alarm(AlarmChanged(rule.name, rule.grade, change.state, change.reason))
        if change.tone is not None and change.text:
            _sound(context, change)
        elif change.state == "cleared" and rule.grade > Grade.CAUTION and rule.ends_aloud:
            context.alarm(Say(alarm_words.cleared(rule.name, rule.over), Urgency.ANSWER))
        if change.state in ("raised", "reminded") and change.tone is not None:
            context.update(why=change.reason)


def _sound(context: EventContext, change: Change) -> None:
    """Tone first, then its words; afterwards the operator is told where we are."""
    rule = change.rule
    assert change.tone is not None
    if change.tone is Grade.DANGER:
        context.alarm(Hush())
    context.alarm(Tone(change.tone))
    context.alarm(Say(change.text, URGENCY[change.tone]))
    _acts(context, change)
    if rule.name not in SMALL_TALK:
        context.alarmed = True
        context.update(come_back=True)
    if rule.name in OVERDUE:
        asking.asked(context, OVERDUE[rule.name])


def _acts(context: EventContext, change: Change) -> None:
    """What to do from memory, once, when an alarm that has such acts is raised."""
    known = context.parts.emergencies
    if known is None or change.state != "raised":
        return
    emergency = known.for_alarm(change.rule.name)
    if emergency is not None:
        acts = alarm_words.unsaid(change.text, known.words(emergency))
        context.alarm(Say(acts, Urgency.DANGER))


def emergency_standing(context: EventContext) -> Emergency | None:
    """The emergency whose acts belong to the gravest alarm that stands, if it has any."""
    known, spoken = context.parts.emergencies, context.state.watch.spoken()
    return known.for_alarm(spoken[0].name) if known is not None and spoken else None


def acknowledge_alarms(context: EventContext) -> None:
    """The operator has heard what stands."""
    watch, changes = watching.acknowledge(context.state.watch, context.at)
    context.update(watch=watch)
    _tell(context, changes)
    graver_first = sorted(changes, key=lambda change: -change.rule.grade)
    standing = [change.rule.name for change in graver_first]
    context.say(
        alarm_words.acknowledged(standing) if standing else alarm_words.no_alarm(), Urgency.ANSWER
    )


def shelve_alarms(context: EventContext, minutes: float | None) -> None:
    """Put the gravest alarm aside for a while, if it may be."""
    reason = "asked for by the operator"
    watch, changes, refused = watching.shelve(
        context.state.watch, context.at, reason, minutes=15.0 if minutes is None else minutes
    )
    context.update(watch=watch)
    _tell(context, changes)
    if refused:
        context.say(refused, Urgency.ANSWER)
    for change in changes:
        context.say(alarm_words.shelved(change.rule.name, minutes or 15.0), Urgency.ANSWER)
