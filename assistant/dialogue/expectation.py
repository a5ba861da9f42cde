"""What is to be listened for after an event: the question that is open and the forms that count."""

from __future__ import annotations

from collections.abc import Iterator
from typing import cast

from assistant.alarms.lifecycle import Alarm
from assistant.dialogue import (
    engine_answers,
    following,
    mark_words,
    names,
    plate_check,
    valve_figure,
)
from assistant.dialogue.conversation import Open
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.dialogue.state import STEP
from assistant.dialogue.what_is_open import open_now
from assistant.messages import READINGS, Expected, ExpectedKind, Report
from assistant.picture.glass import COCKS_SHUT
from assistant.procedure import phases, plate, position, remedies
from assistant.procedure.emergency import EMERGENCY, OUTSIDE, OUTSIDE_OUT, OVER
from assistant.procedure.position import Progress
from assistant.understanding.meanings import reports_in

MOTION = frozenset({"gear", "people", "cylinder"})  # subjects told of in steam
GAUGE_COCK = "Gauge cock open"
COCK_IS_OPEN = ("cock is open", "the cock is open", "gauge cock is open")
MOVES, CREEPS = Report("engine", "moving"), "engine creeps"
MOVING_FORMS = (
    "she is moving", "engine is moving", "the engine is moving", "wheels are turning",
    "we are moving", "engine is running", "the engine is running", "she is running",
    "she is turning", "she is turning over", "she is ticking over", "ticking over",
)  # fmt: skip
LATELY_S = 600.0  # a blow-through so old may still be told of in few words. Judgement
CORRECTABLE_S = 60.0  # a bare number after "wrong" corrects a reading no older than this


def expected(context: EventContext) -> Expected:
    """What is to be listened for after this event."""
    state, hand = context.state, position.in_hand(context.state.progress)
    answers, about = _answers_now(context), _about(context)
    opened, asked = open_now(context), state.reading_asked
    kind: str = "state" if answers else "any"
    if opened is Open.WHICH and about is not None:
        kind = about
    elif opened in (Open.CONFIRMATION, Open.WHICH, Open.END_ASKED):
        kind = "answer"
    elif asked in READINGS:
        kind = str(asked)
    elif plate_check.has_floor(context):
        kind = "answer"
    elif hand is not None and hand.kind == "value" and hand.asks in READINGS:
        kind = hand.asks
    true = following.true_conditions(picture_now(context))
    another_phase, impossible = context.config.out_of_phase(true)
    return Expected(
        cast(ExpectedKind, kind),
        answers,
        about,
        context.config.dial,
        elsewhere=context.config.named_forms,
        another_phase=another_phase,
        impossible=impossible,
    )


def _answers_now(context: EventContext) -> tuple[tuple[str, Report], ...]:
    """The step's own forms, those that call up something else, those that are true at any time.

    Each form counts once; the subject that is asked stands first.
    """
    meanings = dict(position.possible_answers(context.state.progress))
    warm = (answer for step in following.warm_steps(context) for answer in step.answers())
    others = (
        *warm,
        *_glass_answers(context),
        *_in_trouble(context),
        *_of_the_motion(context),
        *_she_moves(context),
        *_gauge_cock(context),
        *_valve_asked(context),
        *_emergency_calls(context),
        *context.config.remedy_calls,
        *phases.move_calls(context.state.phase),
        *context.config.bypass_forms,
        *valve_figure.forms(context),
        *mark_words.forms(context),
        *names.forms(context),
        *(plate.ANSWERS if context.state.question.plate is not None else ()),
        *(form for each in _lists_open(context) for form in position.said_in_passing(each)),
    )
    for form, report in others:
        meanings.setdefault(form, report)
    meanings.update(_broken_glass(context))
    return tuple(meanings.items())


def _lists_open(context: EventContext) -> tuple[Progress, ...]:
    """The list in hand, and what waits behind it."""
    work = context.state.procedure
    return (work.progress, *work.parked)


def _glass_answers(context: EventContext) -> tuple[tuple[str, Report], ...]:
    """How the glass returns, where it is to be blown through, or a list has that open."""
    picture, asked = picture_now(context), any(map(_asks_blow, context.state.watch.spoken()))
    glass_open = any(
        step.asks == "glass"
        for listed in _lists_open(context)
        for step in position.open_steps(listed)
    )
    doubted = not picture.water.readable or picture.glass.value in ("flat", "broken")
    doubted = doubted or (picture.steam.value == "steam" and picture.glass.value != "proved hot")
    asked = asked or _blown_lately(context) or context.state.latest_is("glass", "new")
    if not (doubted or asked or glass_open):
        return ()
    steps = (step for listed in context.config.lists for step in listed.steps)
    hot = (step for step in steps if step.asks == "glass" and step.while_ == "steam")
    step = next(hot, None)
    calls = {form for form, _ in context.config.remedy_calls}  # which call up a list of trouble
    answers = () if step is None else step.answers()
    return tuple(answer for answer in answers if answer[0] not in calls)


def _broken_glass(context: EventContext) -> Iterator[tuple[str, Report]]:
    """The cocks that are shut beside a broken glass are its own."""
    if picture_now(context).glass.value == "broken":
        yield from ((form, COCKS_SHUT) for form in ("cocks shut", "cocks are shut"))


def _blown_lately(context: EventContext) -> bool:
    """Whether the glass was told blown through, told of, or asked about not long ago."""
    state = context.state
    told = (state.latest(subject) for subject in ("glass", "blow through"))
    put = (
        state.asked.get(STEP + step.id)
        for listed in context.config.lists
        for step in listed.steps
        if step.asks == "glass"
    )
    times = [t.at for t in told if t is not None] + [a.last_at for a in put if a is not None]
    return bool(times) and not context.elapsed(max(times), LATELY_S)


def _valve_asked(context: EventContext) -> Iterator[tuple[str, Report]]:
    """That it stands still, where it was asked whether the valve moves."""
    if engine_answers.valve_is_asked(context):
        yield from ((form, engine_answers.SHUT) for form in engine_answers.STILL)


def _asks_blow(alarm: Alarm) -> bool:
    """Whether its words want the glass blown through."""
    return "blow " in f"{alarm.rule.act} {alarm.rule.more}"


def _in_trouble(context: EventContext) -> Iterator[tuple[str, Report]]:
    """How a trouble stands may be said before its check was put: "quiet again"."""
    state = context.state
    for step in position.open_steps(state.progress) if state.procedure.parked else ():
        yield from (pair for pair in step.answers() if pair[1].value == remedies.CURED)


def _of_the_motion(context: EventContext) -> Iterator[tuple[str, Report]]:
    """What is against motion is true whenever it is said, also after its step was answered."""
    lists = (context.state.progress, *context.state.procedure.parked)
    for step in (step for each in lists for step in each.steps):
        if step.asks in MOTION:
            yield from (pair for pair in step.answers() if len(pair[0].split()) >= 2)


def _she_moves(context: EventContext) -> Iterator[tuple[str, Report]]:
    """That she moves is wanted with the regulator told open, else it is motion nobody wants."""
    opened = picture_now(context).motion.regulator.value == "open"
    report = MOVES if opened else Report(EMERGENCY, CREEPS)
    return ((form, report) for form in MOVING_FORMS)


def _gauge_cock(context: EventContext) -> Iterator[tuple[str, Report]]:
    """How the gauge's cock stands, where an alarm or an open step of a list asks about it."""
    emergencies, watch = context.config.emergencies, context.state.watch
    found = (emergencies.for_alarm(a.name) for a in watch.alarms) if emergencies else ()
    asked = any(GAUGE_COCK in " ".join(each.acts) for each in found if each is not None)
    steps = (step for each in _lists_open(context) for step in position.open_steps(each))
    said = (f"{step.say} {step.limits.too_low if step.limits else ''}" for step in steps)
    if asked or any(GAUGE_COCK in words for words in said):
        yield from ((form, Report("gauge cock", "open")) for form in COCK_IS_OPEN)


def _emergency_calls(context: EventContext) -> tuple[tuple[str, Report], ...]:
    """While a danger or a call stands, that it is over; at any time, an owner's own calls."""
    emergencies, watch = context.config.emergencies, context.state.watch
    may_end = watch.danger or any(alarm.rule.kind == "spoken" for alarm in watch.alarms)
    if emergencies is None or not (may_end or not emergencies.general):
        return ()
    called = {alarm.name for alarm in watch.alarms if alarm.rule.kind == "spoken"}
    over = OUTSIDE_OUT if called == {OUTSIDE} else ()
    ended = tuple((form, Report(EMERGENCY, OVER)) for form in over)
    return (*emergencies.calls(may_end), *ended)


def _about(context: EventContext) -> str | None:
    """The gauge that "wrong, sixty five" would correct: of the doubted reading, or of the last."""
    state = context.state
    if state.doubt is not None:
        doubted = [r.what for r in reports_in(state.doubt.meaning) if r.what in READINGS]
        return doubted[0] if doubted else None
    last = state.reports[-1] if state.reports else None
    if last is None or last.report.what not in READINGS or context.elapsed(last.at, CORRECTABLE_S):
        return None
    return last.report.what
