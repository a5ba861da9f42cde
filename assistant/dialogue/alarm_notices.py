"""Between the session and the alarm watch: makes its inputs, and speaks the alarms it raises.

Tone first, then the words of the alarm, then at most three acts of an emergency.
"""

from __future__ import annotations

from collections.abc import Iterable

from assistant.alarms import watch as watching
from assistant.alarms.condition import LEVEL_DEADBAND
from assistant.alarms.inputs import AlarmInputs, TimedValue
from assistant.alarms.lifecycle import SHELF_S, Change
from assistant.alarms.water_rules import FULL_GLASS, NEAR_UPPER
from assistant.belief.gauge_and_valve import FIGURE
from assistant.boiler.scales import PSI_PA
from assistant.dialogue.estimates import LazyEstimates
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import alarms, boiler, hearing, told
from assistant.dialogue.picture_now import picture_now
from assistant.dialogue.state import SessionState
from assistant.messages import (
    READINGS,
    AlarmChanged,
    Grade,
    Report,
    Say,
    Urgency,
)
from assistant.picture.report_log import ReportLog, TimedReport
from assistant.procedure.emergency import Emergency
from assistant.procedure.position import open_items
from assistant.procedure.scale import measure
from assistant.wording import alarm_words
from assistant.wording.dial_units import in_dial

LIST_RESTS = frozenset(
    {
        "water near the lower mark",
        "no feed works",
        "no feed, urgent",
        "feed fails near the mark",
        "gauge and valve unsettled",
        "child inside the barrier",
        "engine creeps",
        "pressure lost",
        "pressure perhaps high",
        "water told low",
    }
)  # alarms beside which the list rests, though they are no danger
NO_FIRING = frozenset({"pressure lost", "pressure perhaps high", "water told low"})  # beside them
ESTIMATE_EVERY_S = 120.0
TOLD_IN_WORDS = ("water told", "pressure told")  # subjects of reports
_READINGS_KEPT = 12  # of one gauge, for the watch
STEAM_PSI = 2.0  # from here on there is steam, and readings are wanted


def watch_and_tell(context: EventContext) -> None:
    """Let the watch look, and tell what changed."""
    inputs = alarm_inputs(context)
    watch, changes = watching.look(
        context.state.watch, inputs, context.at, context.retracted, context.report_fault
    )
    context.wake_at(watching.next_deadline(watch, inputs, context.at))
    alarms.stand(context, watch)
    context.alarm_inputs = inputs
    _record_changes(context, changes)


def alarm_inputs(context: EventContext) -> AlarmInputs:
    """The engine as the session knows it now."""
    state = context.state
    gauges = _readings(context, "pressure"), _readings(context, "water"), _readings(context, "tank")
    _renew_estimates(context)
    return AlarmInputs(
        context.config.engine,
        state.phase.value,
        _steam_since(context),
        *gauges,
        states={**state.reports.once("states", _states), **_told_in_words(context)},
        water_now=boiler.estimated(context, lambda estimates: estimates.water, None),
        water_cause=_water_cause(context),
        picture=picture_now(context),
        valve_answered=picture_now(context).valve.value != "overdue",
        agreed=state.belief.facts.gauge_and_valve.agreed_s is not None,
        plan_at=state.told.plan_at,
        forecast_at=_forecast_at(state),
        plan_margin_s=state.told.plan_margin_s + _forecast_margin_s(state),
        first_steam_by=state.told.first_steam_by,
        emergencies=tuple(TimedValue(s.report.value, s.at) for s in state.reports.of("emergency")),
        lost_devices={name: TimedValue(name, context.at) for name in sorted(state.lost_devices)},
        left_open=tuple(
            step.id
            for step in open_items(state.progress)
            if step.id not in state.progress.unanswered  # named when it was left
        ),
    )


def _renew_estimates(context: EventContext) -> None:
    """Make the estimates again after a report and every two minutes."""
    state = context.state
    reported = context.accepted or context.retracted
    if reported or context.elapsed(state.believed.estimates_at, ESTIMATE_EVERY_S):
        warm = state.fire_in or state.latest("pressure") is not None
        glass_read = state.latest("water") is not None
        estimates = LazyEstimates(state.belief, warm, glass_read, state.fire_in)
        boiler.renew_estimates(context, estimates)


def _readings(context: EventContext, gauge: str) -> tuple[TimedValue, ...]:
    """The newest readings of a gauge, oldest first."""

    def newest(called: tuple[TimedReport, ...]) -> tuple[TimedValue, ...]:
        return tuple(TimedValue(_value(context, s.report), s.at) for s in called[-_READINGS_KEPT:])

    return context.state.reports.once_of(gauge, newest)


def _value(context: EventContext, report: Report) -> float | str:
    value = measure(report, context.config.engine)
    return str(report.value) if value is None else value


def _told_in_words(context: EventContext) -> dict[str, TimedValue]:
    """What was last told of a gauge without a figure, or heard of it and not settled."""
    told = ((name, hearing.latest(context, name)) for name in TOLD_IN_WORDS)
    return {name: TimedValue(str(t.report.value), t.at) for name, t in told if t is not None}


def _states(log: ReportLog) -> dict[str, TimedValue]:
    """The last state of each subject that is not a gauge."""
    states = {s: log.once_of(s, _state) for s in log.subjects if s not in READINGS}
    return {subject: state for subject, state in states.items() if state is not None}


def _state(reports: tuple[TimedReport, ...]) -> TimedValue | None:
    """The last state of one subject and when it began, not when it was last repeated."""
    state: TimedValue | None = None
    for timed in reports:
        value = timed.report.value
        if isinstance(value, str) and (state is None or state.value != value):
            state = TimedValue(value, timed.at)
    return state


def _steam_since(context: EventContext) -> float | None:
    """From when readings are wanted: from the first that shows steam or taking over warm.

    After a break, from its end. None with the fire out and the gauge back at rest.
    """
    state = context.state
    since = state.procedure.warm_since
    if since is None:
        since = state.reports.once("first steam", lambda log: _first_steam_at(context, log))
    if since is None or _is_cold_again(context):
        return None
    return since if state.clock.resumed_at is None else max(since, state.clock.resumed_at)


def _first_steam_at(context: EventContext, log: ReportLog) -> float | None:
    """When the gauge was first called with steam behind it."""
    called = ((measure(s.report, context.config.engine) or 0.0, s.at) for s in log.of("pressure"))
    return next((at for gauge, at in called if gauge >= STEAM_PSI * PSI_PA), None)


def _is_cold_again(context: EventContext) -> bool:
    """Whether the fire is drawn, run down or dead, and the last gauge reading shows no steam."""
    fire = context.state.latest("fire")
    if fire is None or fire.report.value not in ("drawn", "run down", "dead"):
        return False
    newest_first = reversed(context.state.reports.of("pressure"))
    called = (measure(s.report, context.config.engine) for s in newest_first)
    last = next((gauge for gauge in called if gauge is not None), None)
    return last is not None and last < STEAM_PSI * PSI_PA


def _water_cause(context: EventContext) -> str:
    """By what the glass moves, where its last readings show that it does."""
    if picture_now(context).water.trend not in ("falling", "rising"):
        return ""
    return boiler.estimated(context, lambda estimates: estimates.water_cause, "")


def _forecast_at(state: SessionState) -> float | None:
    """When working pressure is expected by the last forecast, once there is a plan [s]."""
    made = state.told.forecast
    if made is None or made.mid is None or state.told.plan_at is None:
        return None
    return state.told.forecast_at + 60.0 * made.mid


def _forecast_margin_s(state: SessionState) -> float:
    """How far off the last forecast may be by its own band [s]."""
    made = state.told.forecast
    if made is None or made.low is None or made.mid is None or made.high is None:
        return 0.0
    return 60.0 * max(made.high - made.mid, made.mid - made.low)


def _record_changes(context: EventContext, changes: Iterable[Change]) -> None:
    """In the book what changed; aloud only that a warning or danger has ended: the rest is wanted.

    What stands is spoken by the agenda.
    """
    for change in changes:
        rule = change.rule
        if change.state in ("raised", "acknowledged", "shelved", "cleared"):
            reason = in_dial(change.reason, context.dial)
            context.alarm(AlarmChanged(rule.name, rule.grade, change.state, reason))
        if change.state == "cleared":
            _reason_is_over(context, rule.name)
        context.alarmed = context.alarmed or (change.to_be_told and rule.grade > Grade.CAUTION)
        ended = change.state == "cleared" and rule.grade > Grade.CAUTION and rule.announces_end
        if ended and not change.quiet and not _by_word(context):
            context.alarm(Say(alarm_words.cleared(rule.name, rule.end_text), Urgency.ANSWER))


def _reason_is_over(context: EventContext, name: str) -> None:
    """What an alarm rested on that has ended answers no "why?" any more."""
    stood = next((a for a in context.before.watch.alarms if a.name == name), None)
    if stood is not None and context.state.told.why == in_dial(stood.reason, context.dial):
        told.because(context, "")


def _by_word(context: EventContext) -> bool:
    """Whether a word ended it: what was taken back or put in the book is not said to be well."""
    return bool(context.retracted) or any(report.what == FIGURE for report in context.accepted)


def emergency_standing(context: EventContext) -> Emergency | None:
    """The emergency whose acts belong to the gravest alarm that stands, if it has any."""
    emergencies, spoken = context.config.emergencies, context.state.watch.spoken()
    return emergencies.for_alarm(spoken[0].name) if emergencies is not None and spoken else None


def goes_first(context: EventContext) -> str:
    """What an alarm wants before the list goes on: a warning, or low water to come; else empty."""
    spoken = (alarm.rule for alarm in context.state.watch.spoken() if alarm.shelved_until is None)
    rules = (r for r in spoken if r.grade > Grade.CAUTION or r.name in LIST_RESTS)
    return next((rule.text for rule in rules), "")


def acknowledge_spoken(context: EventContext) -> None:
    """Acknowledge every spoken alarm, and name them, but not as what was called lower since."""
    watch, changes = watching.acknowledge(context.state.watch, context.at)
    alarms.stand(context, watch)
    _record_changes(context, changes)
    graver_first = sorted(changes, key=lambda change: -change.rule.grade)
    names = (_name_now(context, change.rule.name) for change in graver_first)
    standing = [name for name in dict.fromkeys(names) if name]
    context.say(
        alarm_words.acknowledged(standing) if standing else alarm_words.no_alarm(), Urgency.ANSWER
    )


def _name_now(context: EventContext, name: str) -> str:
    """The name of an alarm that stands, as the last level has it.

    A glass called full and lower since is not proved yet; low water called higher since wants a
    second call; of water near the upper mark that was called lower since nothing is said.
    """
    called, engine = context.state.reports.of("water"), context.config.engine
    level = measure(called[-1].report, engine) if called else None
    if level is None:
        return name
    if name == "glass full" and level < FULL_GLASS:
        return "glass not proved"
    if name == "low water" and level > engine.glass.lower_mark + LEVEL_DEADBAND:
        return "water not called twice"
    below = level < engine.glass.upper_mark - NEAR_UPPER - LEVEL_DEADBAND
    return "" if name == "water near the upper mark" and below else name


def shelve_gravest(context: EventContext) -> None:
    """Shelve the gravest alarm for a while, if it may be shelved."""
    reason = "asked for by the operator"
    watch, changes, refused = watching.shelve(context.state.watch, context.at, reason)
    alarms.stand(context, watch)
    _record_changes(context, changes)
    if refused:
        context.say(refused, Urgency.ANSWER)
    for change in changes:
        context.say(alarm_words.shelved(change.rule.name, SHELF_S / 60.0), Urgency.ANSWER)
