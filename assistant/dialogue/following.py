"""The list follows the engine: steps whose time is over lapse, steps that are proved are done.

Reads the picture; decides nothing about what is said.
"""

from __future__ import annotations

from dataclasses import replace

from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import work
from assistant.dialogue.picture_now import picture_now
from assistant.dialogue.state import AHEAD
from assistant.messages import Grade, Say, StepDone, StepOvertaken, Tone, Urgency
from assistant.picture.picture import PROOFS, Picture
from assistant.procedure import conditions, lapsing
from assistant.procedure.checklist import Checklist, Step
from assistant.procedure.position import Done, Progress, due_gauge_pa
from assistant.wording import walkthrough

# A state told longer ago is asked again before it counts for another list. Judgement.
FRESH_S = 600.0
NOTHING = "nothing takes its place"


def lapse_cold(context: EventContext) -> None:
    """Before answers are taken: a gauge under steam answers no question about a cold engine."""
    if context.accepted or context.retracted or AHEAD in context.state.asked:
        _lapse(context, true_conditions(picture_now(context)) & {conditions.STEAM})


def lapse(context: EventContext) -> None:
    """What is over lapses, whatever was answered."""
    _lapse(context, true_conditions(picture_now(context)))


def _lapse(context: EventContext, true: frozenset[str]) -> None:
    progress, overtaken = lapsing.lapse(context.state.progress, true)
    left_over = lapsing.left_over(progress, _all_lists(context)) if overtaken else ()
    for step in overtaken:
        if answer := _just_answered(context, step):
            done = Done(step.id, answer, context.at)
            progress = replace(
                progress,
                done=(*progress.done, done),
                overtaken=tuple(each for each in progress.overtaken if each != step.id),
            )
            context.record(StepDone(context.state.phase.value, done.step, done.answer))
            continue
        because = f"{_because(step)}; {NOTHING}" if step in left_over else _because(step)
        context.record(StepOvertaken(context.state.phase.value, step.id, because))
        if step in left_over:  # told once; it stays in the report
            context.alarm(Tone(Grade.CAUTION))
            context.alarm(Say(walkthrough.overtaken_unguarded(step.id), Urgency.ALARM))
    work.come_to(context, progress)


def _just_answered(context: EventContext, step: Step) -> str:
    """What was reported in this event that is the step's own answer; empty for nothing.

    "Fire run down" ends what is asked with a fire in, and is one of the things that were asked.
    """
    passing = {reply.state for reply in step.replies if reply.passes}
    said = (r for r in context.accepted if r.what == step.asks and r.value in passing)
    return next((f"{report.what} {report.value}" for report in said), "")


def follow_engine(context: EventContext) -> None:
    """After answers are taken: what is over lapses, what was seen a moment ago is not asked."""
    if not context.accepted and not context.retracted:
        return
    picture = picture_now(context)
    lapse(context)
    proved, values = _proved(picture, FRESH_S), _values(picture)
    progress, done = lapsing.satisfy(context.state.progress, proved, context.at, values)
    for each in done:
        context.record(StepDone(context.state.phase.value, each.step, each.answer))
    work.come_to(context, progress)


def open_again(context: EventContext) -> None:
    """What was overtaken by a reading that was taken back is wanted again."""
    true = true_conditions(picture_now(context))
    work.come_to(context, lapsing.open_again(context.state.progress, true))


def true_conditions(picture: Picture) -> frozenset[str]:
    """What the engine is known to be, in the words of a step's `while`.

    Steam only by two witnesses or a gauge of a tenth of working pressure: no needle off its pin.
    """
    found = {
        conditions.COLD: picture.steam.value == "cold",
        conditions.FIRE_IN: picture.fire.burning,
        conditions.STEAM: picture.steam.ahead,
        conditions.FIRE_OUT: picture.fire.value == "drawn",
    }
    return frozenset(word for word, holds in found.items() if holds)


def is_overtaken_by_steam(progress: Progress) -> bool:
    """Whether a step of a boiler without steam was overtaken; not only one of an unlit fire."""
    cold = {step.id for step in progress.steps if step.while_ == conditions.COLD}
    return not cold.isdisjoint(progress.overtaken)


def never_proved(context: EventContext) -> tuple[Step, ...]:
    """The killers that the engine has overtaken, and whose warm form is not done either."""
    left = lapsing.left_over(context.state.progress, _all_lists(context))
    return (*_wanted_warm(context), *left)


def _wanted_warm(context: EventContext) -> tuple[Step, ...]:
    """What overtaken steps guarded, in its warm form, and is not proved."""
    picture, lists = picture_now(context), _all_lists(context)
    true, proved = true_conditions(picture), _proved(picture, float("inf"))
    return tuple(lapsing.warm_wanted(context.state.progress, lists, true, proved))


def _all_lists(context: EventContext) -> tuple[Checklist, ...]:
    return (*context.config.lists, *context.config.remedies)


def warm_steps(context: EventContext) -> tuple[Step, ...]:
    """What overtaken steps guarded, in the form wanted under steam, once its pressure is there."""
    if not context.state.progress.overtaken:
        return ()
    gauge_pa = picture_now(context).gauge.pressure_pa or 0.0
    return tuple(
        step
        for step in _wanted_warm(context)
        if step.due is None or due_gauge_pa(step.due, context.config.engine) <= gauge_pa
    )


def _because(step: Step) -> str:
    return {conditions.UNLIT: "fire lit", conditions.COLD: "steam"}.get(step.while_, "fire out")


def _proved(picture: Picture, within_s: float) -> frozenset[str]:
    """The fields that are proved, by witnesses no older than this [s]."""
    ages = {
        "glass proved": picture.glass.age_s,
        "regulator shut": picture.motion.regulator.age_s,
        "drains open": picture.motion.drains.age_s,
        "gear out": picture.motion.gear.age_s,
        "brake on": picture.motion.brake.age_s,
        "gauge moves": picture.gauge.age_s,
        "water seen": picture.water.age_s,
        "blower eased": picture.blower.age_s,
        "damper eased": picture.damper.age_s,
    }
    known = {name for name, age in ages.items() if age is not None and age <= within_s}
    known |= {"feed proved", "feed taken", "valve and gauge agree"}
    return frozenset(name for name in known if PROOFS[name](picture))


def _values(picture: Picture) -> dict[str, float]:
    found = {"water": picture.water.level, "pressure": picture.gauge.pressure_pa}
    return {subject: value for subject, value in found.items() if value is not None}
