"""The watch's eyes and voice: shows it the engine as the session knows it, tells what it raises.

The rules are the watch's. Tone first, then its words, then at most three acts of an emergency.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import takewhile

from assistant.alarms import watch as watching
from assistant.alarms.inputs import Seen as Sighted
from assistant.alarms.inputs import Sight
from assistant.alarms.lifecycle import Change
from assistant.belief.estimate import mass_kg, temperature_at_k
from assistant.boiler.glass import shown_for
from assistant.boiler.scales import PSI_PA
from assistant.dialogue import asking
from assistant.dialogue.estimates import Outlook
from assistant.dialogue.event_context import Turn
from assistant.dialogue.state import Mind, Seen, Told
from assistant.messages import READINGS, AlarmChanged, Grade, Hush, Report, Say, Tone, Urgency
from assistant.procedure.emergency import Emergency
from assistant.procedure.position import open_items
from assistant.procedure.scale import measure
from assistant.wording import alarm_words

BELIEVE_EVERY_S = 120.0
ENOUGH = 12  # readings of one gauge that the watch needs
MOVED_PSI = 2.0  # from here on there is steam, and readings are wanted
OVERDUE = {"water reading overdue": "water", "pressure reading overdue": "pressure"}
SMALL_TALK = frozenset({"step left open"})  # raised in the middle of a conversation about it
URGENCY = {
    Grade.DANGER: Urgency.DANGER,
    Grade.WARNING: Urgency.ALARM,
    Grade.CAUTION: Urgency.ALARM,
}


def look(turn: Turn) -> None:
    """Let the watch look, and tell what changed."""
    seen = sight(turn)
    watch, changes = watching.look(turn.mind.watch, seen, turn.at, turn.taken_back)
    turn.asks_again(watching.stands_until(watch, seen, turn.at))
    if watch != turn.mind.watch:
        turn.now(watch=watch)
    _tell(turn, changes)


def sight(turn: Turn) -> Sight:
    """The engine as the session knows it now."""
    mind = turn.mind
    quick = _numbers(turn, "pressure"), _numbers(turn, "water"), _numbers(turn, "tank")
    _believe(turn)
    return Sight(
        turn.parts.engine,
        mind.phase.value,
        _steam_since(turn),
        *quick,
        states=mind.seen.once("states", _states),
        water_now=turn.believed(lambda outlook: outlook.water, None),
        glass_moves=_glass_moves(turn),
        plan_at=mind.plan_at,
        forecast_at=_forecast_at(mind),
        plan_within_s=mind.plan_within_s + _forecast_within(mind),
        first_steam_by=mind.first_steam_by,
        emergencies=tuple(Sighted(s.report.value, s.at) for s in mind.seen.of("emergency")),
        lost={name: Sighted(name, turn.at) for name in sorted(mind.lost)},
        left_open=tuple(step.id for step in open_items(mind.progress)),
    )


def _believe(turn: Turn) -> None:
    """What is believed is looked at anew after a report and every two minutes.

    A sum that fails leaves it unknown: the alarms that need no sum are looked at all the same.
    """
    mind = turn.mind
    if turn.taken or turn.taken_back or turn.passed(mind.believed_at, BELIEVE_EVERY_S):
        warm = mind.fire_in or mind.latest("pressure") is not None
        seen = mind.latest("water") is not None
        turn.now(believed_at=turn.at, outlook=Outlook(mind.belief, warm, seen, mind.fire_in))


def _numbers(turn: Turn, what: str) -> tuple[Sighted, ...]:
    def newest(called: tuple[Seen, ...]) -> tuple[Sighted, ...]:
        return tuple(Sighted(_value(turn, s.report), s.at) for s in called[-ENOUGH:])

    return turn.mind.seen.once_of(what, newest)


def _value(turn: Turn, report: Report) -> float | str:
    value = measure(report, turn.parts.engine)
    return str(report.value) if value is None else value


def _states(told: Told) -> dict[str, Sighted]:
    """The last state of each thing that is no reading."""
    states = {what: told.once_of(what, _state) for what in told.subjects if what not in READINGS}
    return {what: state for what, state in states.items() if state is not None}


def _state(told: tuple[Seen, ...]) -> Sighted | None:
    """The last state of one thing, with the time it began, not the time it was last repeated."""
    state: Sighted | None = None
    for seen in told:
        value = seen.report.value
        if isinstance(value, str) and (state is None or state.value != value):
            state = Sighted(value, seen.at)
    return state


def _steam_since(turn: Turn) -> float | None:
    """From when readings are wanted: the first that shows steam, or taking over a warm engine.

    After a break from its end; never with the fire out and the gauge back at rest.
    """
    mind = turn.mind
    since = mind.warm_since
    if since is None:
        since = mind.seen.once("first steam", lambda told: _first_steam(turn, told))
    if since is None or _gone_cold(turn):
        return None
    return since if mind.resumed_at is None else max(since, mind.resumed_at)


def _first_steam(turn: Turn, told: Told) -> float | None:
    """When the gauge was first called with steam behind it."""
    called = ((measure(s.report, turn.parts.engine) or 0.0, s.at) for s in told.of("pressure"))
    return next((at for gauge, at in called if gauge >= MOVED_PSI * PSI_PA), None)


def _gone_cold(turn: Turn) -> bool:
    """The fire is drawn or run down, and the last gauge reading shows no steam."""
    fire = turn.mind.latest("fire")
    if fire is None or fire.report.value not in ("drawn", "run down"):
        return False
    called = (measure(s.report, turn.parts.engine) for s in reversed(turn.mind.seen.of("pressure")))
    last = next((gauge for gauge in called if gauge is not None), None)
    return last is not None and last < MOVED_PSI * PSI_PA


def _glass_moves(turn: Turn) -> float | None:
    """By how much warming alone should have moved the glass since it first stood as it stands."""
    if not turn.taken or turn.taken[-1].what != "water":
        return None
    waters = [s for s in turn.mind.seen if s.report.what == "water"]
    still = list(takewhile(lambda s: s.report == waters[-1].report, reversed(waters)))
    if len(still) < 2:
        return None
    belief, engine = turn.mind.belief, turn.parts.engine
    try:
        kg = mass_kg(belief)
        first, last = (
            shown_for(engine, kg, temperature_at_k(belief, s.at)) for s in (still[-1], still[0])
        )
    except Exception as bug:
        turn.failed(bug)
        return None
    return last - first


def _forecast_at(mind: Mind) -> float | None:
    made = mind.forecast
    if made is None or made.mid is None or mind.plan_at is None:
        return None
    return mind.forecast_at + 60.0 * made.mid


def _forecast_within(mind: Mind) -> float:
    """How far off the forecast that was told last may be by its own band [s]."""
    made = mind.forecast
    if made is None or made.low is None or made.mid is None or made.high is None:
        return 0.0
    return 60.0 * max(made.high - made.mid, made.mid - made.low)


def _tell(turn: Turn, changes: Iterable[Change]) -> None:
    for change in changes:
        rule = change.rule
        if change.state in ("raised", "acknowledged", "shelved", "cleared"):
            turn.alarm(AlarmChanged(rule.name, rule.grade, change.state, change.reason))
        if change.tone is not None and change.text:
            _sound(turn, change)
        elif change.state == "cleared" and rule.grade > Grade.CAUTION and rule.ends_aloud:
            turn.alarm(Say(alarm_words.cleared(rule.name, rule.over), Urgency.ANSWER))
        if change.state in ("raised", "reminded") and change.tone is not None:
            turn.now(why=change.reason)


def _sound(turn: Turn, change: Change) -> None:
    """Tone first, then its words; afterwards the operator is told where we are."""
    rule = change.rule
    assert change.tone is not None
    if change.tone is Grade.DANGER:
        turn.alarm(Hush())
    turn.alarm(Tone(change.tone))
    turn.alarm(Say(change.text, URGENCY[change.tone]))
    _acts(turn, change)
    if rule.name not in SMALL_TALK:
        turn.alarmed = True
        turn.now(come_back=True)
    if rule.name in OVERDUE:
        asking.asked(turn, OVERDUE[rule.name])


def _acts(turn: Turn, change: Change) -> None:
    """What to do from memory, once, when an alarm that has such acts is raised."""
    known = turn.parts.emergencies
    if known is None or change.state != "raised":
        return
    emergency = known.for_alarm(change.rule.name)
    if emergency is not None:
        acts = alarm_words.unsaid(change.text, known.words(emergency))
        turn.alarm(Say(acts, Urgency.DANGER))


def emergency_standing(turn: Turn) -> Emergency | None:
    """The emergency whose acts belong to the gravest alarm that stands, if it has any."""
    known, spoken = turn.parts.emergencies, turn.mind.watch.spoken()
    return known.for_alarm(spoken[0].name) if known is not None and spoken else None


def acknowledge(turn: Turn) -> None:
    """The operator has heard what stands."""
    watch, changes = watching.acknowledge(turn.mind.watch, turn.at)
    turn.now(watch=watch)
    _tell(turn, changes)
    graver_first = sorted(changes, key=lambda change: -change.rule.grade)
    standing = [change.rule.name for change in graver_first]
    turn.say(
        alarm_words.acknowledged(standing) if standing else alarm_words.no_alarm(), Urgency.ANSWER
    )


def shelve(turn: Turn, minutes: float | None) -> None:
    """Put the gravest alarm aside for a while, if it may be."""
    reason = "asked for by the operator"
    watch, changes, refused = watching.shelve(
        turn.mind.watch, turn.at, reason, minutes=15.0 if minutes is None else minutes
    )
    turn.now(watch=watch)
    _tell(turn, changes)
    if refused:
        turn.say(refused, Urgency.ANSWER)
    for change in changes:
        turn.say(alarm_words.shelved(change.rule.name, minutes or 15.0), Urgency.ANSWER)
