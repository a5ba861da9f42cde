"""For a learner: the reason before a killer, the acts of a step one at a time, fewer prompts.

Adds words to a step of the list only: nothing here touches an alarm or a reading that is due.
Never says that anybody is competent.
"""

from __future__ import annotations

from assistant.dialogue.agenda import step_words, water_forbids
from assistant.dialogue.agenda.need import Need, Rank
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import lesson, work
from assistant.messages import READINGS, Grade, LessonGiven, Order, StepDone, Urgency
from assistant.procedure import position
from assistant.procedure.checklist import Step
from assistant.procedure.progress import ASKED_AGAIN
from assistant.wording import walkthrough
from assistant.wording.quantities import sentences

DROPPED_AFTER = 3  # times a step was done before it was asked. Judgement
REASON_SENTENCES = 2
WITH_A_REASON = frozenset({Rank.DUE, Rank.STEP})


def key_of(context: EventContext, step: str) -> str:
    """The name of a step in what is kept of a learner: the list, then the step."""
    return f"{context.state.progress.checklist.name}/{step.removesuffix(ASKED_AGAIN)}"


def step_put(context: EventContext, step: Step) -> None:
    """A step was put by name; one that was left to the learner is asked again from now on."""
    key = key_of(context, step.id)
    lesson.put(context, key)
    if _times(context, key) >= DROPPED_AFTER:
        lesson.anticipated(context, key, 0)


def reason_before(context: EventContext, need: Need) -> str:
    """The reason of a killer that is put, in two sentences at most, once for each learner.

    Empty beside a warning or a danger, and where a reading is due.
    """
    step, learner = need.step, context.state.lesson.learner
    if step is None or learner is None or not step.killer or not step.why:
        return ""
    key = key_of(context, step.id)
    if key in learner.reasons or need.rank not in WITH_A_REASON:
        return ""
    warned = any(alarm.rule.grade > Grade.CAUTION for alarm in context.state.watch.alarms)
    if warned or context.alarmed or step not in context.state.progress.steps:
        return ""
    lesson.reason_told(context, key)
    context.record(LessonGiven(key, "reason"))
    return " ".join(sentences(step.why)[:REASON_SENTENCES])


def leave(context: EventContext, need: Need) -> bool:
    """Leave a prompt out that the learner has anticipated often enough; whether that was done.

    The step stays open, and is asked at the end of its list where nobody has told of it.
    """
    step, progress = need.step, context.state.progress
    if step is None or step.must or need.rank is not Rank.STEP or context.state.procedure.parked:
        return False
    key = key_of(context, step.id)
    if step not in progress.steps or step.id in progress.skipped:
        return False
    if _times(context, key) < DROPPED_AFTER or key in context.state.lesson.put:
        return False
    work.come_to(context, position.set_aside(progress, step))
    context.record(LessonGiven(key, "prompt left out"))
    return True


def count_anticipated(context: EventContext) -> None:
    """Count the steps that a report of this event answered before they were put."""
    if context.state.lesson.learner is None:
        return
    told = {report.what for report in context.accepted}
    steps = {step.id: step for step in context.state.progress.steps}
    for done in context.records:
        step = steps.get(done.step) if isinstance(done, StepDone) else None
        if step is None or step.must or step.asks not in told:
            continue
        key = key_of(context, step.id)
        if key not in context.state.lesson.put:
            lesson.put(context, key)  # once in a session
            lesson.anticipated(context, key, _times(context, key) + 1)
            context.record(LessonGiven(key, "anticipated"))


def how(context: EventContext, order: Order) -> None:
    """ "How?": the first act of the step in hand; what comes first where that must not be done."""
    step = position.in_hand(context.state.progress) or position.current(context.state.progress)
    if _something_first(context, step):
        context.next_asked = True
    elif step is None:
        context.say(walkthrough.nothing_more(), Urgency.ANSWER)
    else:
        lesson.acts(context, key_of(context, step.id), _acts(context, step))
        next_act(context)


def next_act(context: EventContext) -> bool:
    """Give the next act of the step asked about; False where none is left, it is over, or
    something else comes first.
    """
    step = position.in_hand(context.state.progress) or position.current(context.state.progress)
    key, acts = context.state.lesson.acts_of, context.state.lesson.acts
    if _something_first(context, step):
        return False
    if step is None or key_of(context, step.id) != key or not acts:
        lesson.acts(context, "", ())
        return False
    lesson.acts(context, key, acts[1:])
    if context.state.lesson.learner is not None:
        context.record(LessonGiven(key, "act"))
    last = "" if len(acts) > 1 else f" {walkthrough.last_act()}"
    context.say(f"{acts[0]}{last}", Urgency.ANSWER)
    return True


def _something_first(context: EventContext, step: Step | None) -> bool:
    """Whether a warning stands, a reading was asked for, or the step must not be done now."""
    warned = any(alarm.rule.grade > Grade.CAUTION for alarm in context.state.watch.alarms)
    asked = any(gauge in context.state.asked for gauge in READINGS)
    return warned or asked or (step is not None and water_forbids.forbids(context, step))


def _acts(context: EventContext, step: Step) -> tuple[str, ...]:
    """Its acts: as its list gives them, else its caution and itself, a sentence each."""
    if step.how:
        acts = [step_words.words(context, act) for act in step.how]
        return tuple(act for act in acts if act)
    caution, say = step_words.caution(context, step), step_words.words(context, step.say)
    return tuple(sentences(f"{caution} {say}"))


def _times(context: EventContext, key: str) -> int:
    learner = context.state.lesson.learner
    return 0 if learner is None else dict(learner.anticipated).get(key, 0)
