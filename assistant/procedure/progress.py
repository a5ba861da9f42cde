"""What an answer, a skip or a step back does to where we are in a checklist. Pure values.

A hold is passed by its own answer only: no time-out, skip, restart or "ready" gets past it. What
can be asked of a progress stands in `position.py`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from assistant.boiler.figures import Engine
from assistant.messages import Meaning, Order, Report, Several
from assistant.procedure.checklist import Checklist, Step, for_engine
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

ASKED_AGAIN = " again"  # ends the id of a step that is asked once more at the end of its phase


@dataclass(frozen=True, slots=True)
class Outcome:
    """What an answer, a skip or a step back came to.

    say: what is to be said about it (a remark, why it does not pass, why it is refused), or "".
    done: what it completed. failed: steps that were answered with something that does not pass.
    reopened: steps that were done and are open again, because the new report contradicts them.
    """

    progress: Progress
    say: str = ""
    done: tuple[Done, ...] = ()
    failed: tuple[Step, ...] = ()
    reopened: tuple[Step, ...] = ()
    refused: bool = False


def start_list(
    checklist: Checklist, engine: Engine, at: float, carried: Iterable[Step] = ()
) -> Progress:
    """Begin a checklist on an engine; `carried` are open items that earlier phases left."""
    narrowed = for_engine(checklist, options(engine))
    again = tuple(_at_the_gate(s, narrowed) for s in narrowed.steps if s.again)
    own = {s.id for s in (*narrowed.steps, *again)}
    old = tuple(
        replace(s, after=(), due=None, near_boiling=False) for s in carried if s.id not in own
    )
    skipped = tuple(s.id for s in old)
    return Progress(narrowed, engine, (*narrowed.steps, *again, *old), at, skipped=skipped)


def _at_the_gate(step: Step, checklist: Checklist) -> Step:
    """The step as it is asked once more, after everything else in its list."""
    others = tuple(s.id for s in checklist.steps if not s.waiting)
    return replace(
        step, id=step.id + ASKED_AGAIN, say=step.again, again="", after=others,
        due=None, near_boiling=False, caution="", only_when_asked=True, pause=False,
    )  # fmt: skip


def answer(progress: Progress, meaning: Meaning, at: float) -> Outcome:
    """What a meaning does to the progress; one that is none of its business changes nothing."""
    if isinstance(meaning, Several):
        return _several(progress, meaning.reports, at)
    if isinstance(meaning, Report):
        return _report(progress, meaning, at)
    if isinstance(meaning, Order) and meaning.name == "ready":
        return _ready(progress, at)
    return Outcome(progress)


def _ready(progress: Progress, at: float) -> Outcome:
    step = in_hand(progress)
    if step is None:
        return Outcome(progress)
    if step.must or step.kind != "act":
        return Outcome(progress, say="Tell me what you see, please.", refused=True)
    return _complete(progress, step, "ready", at)


def _several(progress: Progress, reports: tuple[Report, ...], at: float) -> Outcome:
    total = Outcome(progress)
    for report in reports:
        one = _report(total.progress, report, at)
        total = Outcome(
            one.progress,
            " ".join(filter(None, (total.say, one.say))),
            total.done + one.done,
            total.failed + one.failed,
            total.reopened + one.reopened,
        )
    return total


def _report(progress: Progress, report: Report, at: float) -> Outcome:
    value = measure(report, progress.engine)
    before = progress
    if value is not None:
        kept = tuple(entry for entry in progress.last if entry[0] != report.what)
        progress = replace(progress, last=(*kept, (report.what, value, state_of(report))))
    progress, reopened = _reopen(progress, report)
    hand = in_hand(progress)
    verdicts = [(s, _verdict(progress, s, report)) for s in open_steps(progress)]
    judged = [(s, v) for s, v in verdicts if v is not None]
    passing = [s for s, v in judged if v == ""]
    if passing:
        step = hand if hand in passing else passing[0]
        one = _complete(progress, step, state_of(report), at)
        return replace(one, reopened=reopened)
    told = isinstance(report.value, str)  # what is wrong is answered, asked for or not
    failing = [(s, v) for s, v in judged if s == hand or s in reopened or told]
    failing.sort(key=lambda one: one[0] != hand)
    if failing:
        step, said = failing[0]
        return Outcome(progress, say=said or "", failed=(step,), reopened=reopened)
    return Outcome(progress if value is not None else before, reopened=reopened)


def _verdict(progress: Progress, step: Step, report: Report) -> str | None:
    """None: not this step's business; "": it passes; else what is said because it does not."""
    if report.what != step.asks or not may_count(progress, step):
        return None
    if step.only_when_asked and not _asked_or_next(progress, step):
        return None
    return _said(progress, step, report)


def _asked_or_next(progress: Progress, step: Step) -> bool:
    """It was asked, or what it waited for is done and it is the very next to be asked."""
    return step.id == progress.asked or (bool(step.after) and step == current(progress))


def _said(progress: Progress, step: Step, report: Report) -> str | None:
    for reply in step.replies:
        if reply.state == report.value:
            return "" if reply.passes else reply.then
    value = measure(report, progress.engine)
    if value is None or step.kind != "value":
        return None
    return judge(step.limits, value, progress.engine) or ""


def _complete(progress: Progress, step: Step, words_: str, at: float) -> Outcome:
    done = (Done(step.id, words_, at),)
    progress = replace(progress, done=progress.done + done)
    met = _met_already(progress, at)
    progress = replace(progress, done=progress.done + met)
    return Outcome(progress, say=step.remark, done=done + met)


def _met_already(progress: Progress, at: float) -> tuple[Done, ...]:
    """Steps asked only if needed that the last value of their subject has made needless."""
    last = {what: (value, said) for what, value, said in progress.last}
    return tuple(
        Done(s.id, f"already {last[s.asks][1]}", at)
        for s in open_steps(progress)
        if s.if_needed
        and s.asks in last
        and is_due(progress, s)
        and judge(s.limits, last[s.asks][0], progress.engine) is None
    )


def _reopen(progress: Progress, report: Report) -> tuple[Progress, tuple[Step, ...]]:
    """Open again what a new report of the same subject contradicts: killers with a value only.

    Not once something that waited for the answer was done: the fire cannot be unlit.
    """
    acted_on = {a for s in progress.steps if progress.is_done(s.id) for a in s.after}
    broken = tuple(
        s
        for s in progress.steps
        if s.killer
        and s.kind == "value"
        and not s.only_when_asked
        and progress.is_done(s.id)
        and s.id not in acted_on
        and s.asks == report.what
        and _said(progress, s, report)
    )
    if not broken:
        return progress, ()
    ids = {s.id for s in broken}
    done = tuple(d for d in progress.done if d.step not in ids)
    return replace(progress, done=done, asked=broken[0].id), broken


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


def back(progress: Progress) -> Outcome:
    """Open the last answered step again and take it in hand."""
    if not progress.done:
        return Outcome(progress, say="This is the first step.", refused=True)
    step = progress.step(progress.done[-1].step)
    earlier = replace(progress, done=progress.done[:-1], asked=step.id)
    return Outcome(earlier, reopened=(step,))


def state_of(report: Report) -> str:
    """The report as it is kept in the book.

    >>> state_of(Report("pressure", 75.0, "psi"))
    'pressure 75 psi'
    """
    value = report.value if isinstance(report.value, str) else f"{report.value:g}"
    return " ".join(filter(None, (report.what, value, report.unit)))
