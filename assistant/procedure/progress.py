"""What an answer, a skip or a step back does to the progress of a checklist. Pure values.

A hold is passed by its own answer only: no time-out, skip, restart or "ready" gets past it.
`position.py` says where we are.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from assistant.boiler.figures import Engine
from assistant.messages import Meaning, Order, Report, Several
from assistant.procedure.checklist import Checklist, Step, for_engine
from assistant.procedure.conditions import COLD, FIRE_IN, UNLIT, over
from assistant.procedure.position import (
    Done,
    Progress,
    current,
    in_hand,
    is_due,
    may_count,
    open_steps,
)
from assistant.procedure.scale import judge, measure, options

LEFT_OUT = "not on this engine today"  # stands as the answer of a step left out for the day
ASKED_AGAIN = " again"  # ends the id of a step that is asked once more at the end of its phase
SHOWN_GAIN = 1 / 16  # of the glass: half of what it is usually called in (eighths). Judgement


@dataclass(frozen=True, slots=True)
class Outcome:
    """The outcome of an answer, a skip or a step back."""

    progress: Progress
    say: str = ""
    """What is to be said: a remark, why it does not pass, why it is refused, or ""."""
    done: tuple[Done, ...] = ()
    """The steps it completed."""
    reopened: tuple[Step, ...] = ()
    """Steps that were done and are open again, because the new report contradicts them."""
    refused: bool = False
    """Whether nothing was done, for the reason in `say`."""


def start_list(
    checklist: Checklist, engine: Engine, at: float, carried: Iterable[Step] = ()
) -> Progress:
    """Begin a checklist on an engine; `carried` are open items that earlier phases left."""
    narrowed = for_engine(checklist, options(engine))
    again = tuple(_asked_again(s, narrowed) for s in narrowed.steps if s.again)
    listed = {s.id for s in (*narrowed.steps, *again)}
    left_over = tuple(
        replace(s, after=(), due=None, near_boiling=False) for s in carried if s.id not in listed
    )
    skipped = tuple(s.id for s in left_over)
    return Progress(narrowed, engine, (*narrowed.steps, *again, *left_over), at, skipped=skipped)


def _asked_again(step: Step, checklist: Checklist) -> Step:
    """The step as it is asked once more, after everything else in its list."""
    others = tuple(s.id for s in checklist.steps if not s.waiting)
    return replace(
        step, id=step.id + ASKED_AGAIN, say=step.again, again="", after=others,
        due=None, near_boiling=False, caution="", only_when_asked=True, pause=False,
    )  # fmt: skip


def answer(
    progress: Progress, meaning: Meaning, at: float, true: frozenset[str] = frozenset()
) -> Outcome:
    """What a meaning does to the progress; one that answers no step changes nothing.

    true: what the engine is known to be (`conditions.CONDITIONS`): no step is opened again whose
    time is over.
    """
    if isinstance(meaning, Several):
        return _answer_several(progress, meaning.reports, at, true)
    if isinstance(meaning, Report):
        return _answer_report(progress, meaning, at, true)
    if isinstance(meaning, Order) and meaning.name == "ready":
        return _answer_ready(progress, at)
    return Outcome(progress)


def _answer_ready(progress: Progress, at: float) -> Outcome:
    step = in_hand(progress)
    if step is None:
        return Outcome(progress)
    if step.must or step.kind != "act":
        return Outcome(progress, say="Tell me what you see, please.", refused=True)
    return _complete(progress, step, "ready", at)


def _answer_several(
    progress: Progress, reports: tuple[Report, ...], at: float, true: frozenset[str]
) -> Outcome:
    total = Outcome(progress)
    for report in reports:
        outcome = _answer_report(total.progress, report, at, true)
        total = Outcome(
            outcome.progress,
            " ".join(filter(None, (total.say, outcome.say))),
            total.done + outcome.done,
            total.reopened + outcome.reopened,
        )
    return total


def _answer_report(progress: Progress, report: Report, at: float, true: frozenset[str]) -> Outcome:
    value = measure(report, progress.engine)
    before = progress
    if value is not None:
        others = tuple(entry for entry in progress.last if entry[0] != report.what)
        progress = replace(progress, last=(*others, (report.what, value, report_text(report))))
    progress, reopened = _reopen(progress, report, true)
    hand = in_hand(progress)
    objections = [(s, _objection_of(progress, s, report, true)) for s in open_steps(progress)]
    concerned = [(s, objection) for s, objection in objections if objection is not None]
    passing = [s for s, objection in concerned if objection == ""]
    if passing:
        step = hand if hand in passing else passing[0]
        outcome = _complete(progress, step, report_text(report), at, value)
        return replace(outcome, reopened=reopened)
    is_state = isinstance(report.value, str)  # a wrong state is answered, asked for or not
    failing = [(s, o) for s, o in concerned if s == hand or s in reopened or is_state]
    failing.sort(key=lambda pair: pair[0] != hand)
    if failing:
        return Outcome(progress, say=failing[0][1], reopened=reopened)
    return Outcome(progress if value is not None else before, reopened=reopened)


def _objection_of(
    progress: Progress, step: Step, report: Report, true: frozenset[str]
) -> str | None:
    """None: the report does not concern the step; "": it passes; else what is said against it."""
    if report.what != step.asks or not may_count(progress, step):
        return None
    if step.only_when_asked and not _asked_or_next(progress, step):
        return None
    return _objection_to_value(progress, step, report, true)


def _asked_or_next(progress: Progress, step: Step) -> bool:
    """Whether it was asked, or is next and what it waited for is done."""
    return step.id == progress.asked or (bool(step.after) and step == current(progress))


def _objection_to_value(
    progress: Progress, step: Step, report: Report, true: frozenset[str]
) -> str | None:
    """The same by the value or state alone.

    With a fire in, water over the cold mark has swollen: none is let out.
    """
    for reply in step.replies:
        if reply.state == report.value:
            return "" if reply.passes else reply.then
    value = measure(report, progress.engine)
    if value is None or step.kind != "value":
        return None
    found = judge(step.limits, value, progress.engine)
    swells = FIRE_IN in true and step.while_ in (COLD, UNLIT) and step.asks == "water"
    if swells and step.limits is not None and found == step.limits.too_high:
        return ""
    return found or _objection_to_gain(progress, step, value)


def _objection_to_gain(progress: Progress, step: Step, value: float) -> str:
    """What is said when a value has not gained on the step that it is compared with, else ""."""
    before = next((d.value for d in progress.done if d.step == step.gain_on), None)
    gained = before is not None and value >= before + SHOWN_GAIN * (1.0 - 1e-6)
    return "" if not step.gain_on or gained else step.no_gain


def _complete(
    progress: Progress, step: Step, text: str, at: float, value: float | None = None
) -> Outcome:
    done = (Done(step.id, text, at, value),)
    progress = replace(progress, done=progress.done + done)
    needless = _needless(progress, at)
    progress = replace(progress, done=progress.done + needless)
    return Outcome(progress, say=step.remark, done=done + needless)


def _needless(progress: Progress, at: float) -> tuple[Done, ...]:
    """Steps asked only if needed, whose limits the last value of their subject already meets."""
    last = {subject: (value, text) for subject, value, text in progress.last}
    return tuple(
        Done(s.id, f"already {last[s.asks][1]}", at)
        for s in open_steps(progress)
        if s.if_needed
        and s.asks in last
        and is_due(progress, s)
        and judge(s.limits, last[s.asks][0], progress.engine) is None
    )


def _reopen(
    progress: Progress, report: Report, true: frozenset[str]
) -> tuple[Progress, tuple[Step, ...]]:
    """Open the killers again whose value a new report contradicts.

    Not once something that waited for the answer was done: the fire cannot be unlit. Nor one whose
    time is over: a glass under steam is no cold glass.
    """
    acted_on = {a for s in progress.steps if progress.is_done(s.id) for a in s.after}
    contradicted = tuple(
        s
        for s in progress.steps
        if s.killer
        and s.kind == "value"
        and not s.only_when_asked
        and progress.is_done(s.id)
        and s.id not in acted_on
        and not over(s.while_, true)
        and s.asks == report.what
        and _objection_to_value(progress, s, report, true)
    )
    if not contradicted:
        return progress, ()
    ids = {s.id for s in contradicted}
    done = tuple(d for d in progress.done if d.step not in ids)
    return replace(progress, done=done, asked=contradicted[0].id), contradicted


def skip(progress: Progress) -> Outcome:
    """Leave the step in hand open and go on; a killer or a hold is refused."""
    step = in_hand(progress) or current(progress)
    if step is None:
        return Outcome(progress, say="There is nothing to skip.", refused=True)
    if step.must:
        return Outcome(progress, say="This one cannot be skipped. " + step.say, refused=True)
    if step.id in progress.skipped:
        return Outcome(replace(progress, left=(*progress.left, step.id), asked=None))
    return Outcome(replace(progress, skipped=(*progress.skipped, step.id), asked=None))


def leave_out(progress: Progress, at: float) -> Outcome:
    """End the step in hand for the day; a killer or a hold is refused.

    What waits for it goes on, and neither the gate nor a later phase asks for it.
    """
    step = in_hand(progress) or current(progress)
    if step is None:
        return Outcome(progress, say="There is nothing to leave out.", refused=True)
    if step.must:
        return Outcome(progress, say="This one cannot be left out. " + step.say, refused=True)
    ends = {step.id, step.id + ASKED_AGAIN}
    done = tuple(Done(s.id, LEFT_OUT, at) for s in open_steps(progress) if s.id in ends)
    return Outcome(replace(progress, done=progress.done + done, asked=None), done=done)


def back(progress: Progress) -> Outcome:
    """Open the last answered step again and take it in hand."""
    if not progress.done:
        return Outcome(progress, say="This is the first step.", refused=True)
    step = progress.step(progress.done[-1].step)
    earlier = replace(progress, done=progress.done[:-1], asked=step.id)
    return Outcome(earlier, reopened=(step,))


def report_text(report: Report) -> str:
    """The report as it stands in the journal.

    >>> report_text(Report("pressure", 75.0, "psi"))
    'pressure 75 psi'
    """
    value = report.value if isinstance(report.value, str) else f"{report.value:g}"
    return " ".join(filter(None, (report.what, value, report.unit)))
