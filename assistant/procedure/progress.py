"""Where we are in a checklist, and what an answer does to it. Pure; knows no speech and no clock.

A hold is passed by its own answer only: no time-out, skip, restart or "ready" gets past it.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from assistant.boiler.figures import Engine
from assistant.messages import Meaning, Order, Report, Several
from assistant.procedure.checklist import Checklist, Step, for_engine
from assistant.procedure.measure import judge, level, measure, options

AGAIN = " again"  # ends the id of a step that is asked once more at the end of its phase


@dataclass(frozen=True, slots=True)
class Done:
    """A step that was answered: by what, and when [s]."""

    step: str
    answer: str
    at: float


@dataclass(frozen=True)
class Progress:
    """How far a checklist has come.

    steps: the steps for this engine in order, then those asked again, then the open items that
        earlier phases left.
    done: in the order they were answered. skipped: left open aloud, first time round.
    left: asked once more at the gate and left open again.
    asked: id of the step that was put to the operator last.
    due: ids of steps whose pressure has been reached once; they stay due.
    last: the last number of each subject, as (subject, fraction or Pa gauge, words).
    """

    checklist: Checklist
    engine: Engine
    steps: tuple[Step, ...]
    began_at: float
    done: tuple[Done, ...] = ()
    skipped: tuple[str, ...] = ()
    left: tuple[str, ...] = ()
    asked: str | None = None
    due: frozenset[str] = frozenset()
    last: tuple[tuple[str, float, str], ...] = ()

    def step(self, step_id: str) -> Step:
        """The step of that id; KeyError if there is none."""
        for step in self.steps:
            if step.id == step_id:
                return step
        raise KeyError(step_id)

    def is_done(self, step_id: str) -> bool:
        """Whether the step was answered."""
        return any(d.step == step_id for d in self.done)


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


def begin(
    checklist: Checklist, engine: Engine, at: float, carried: Iterable[Step] = ()
) -> Progress:
    """Begin a checklist on an engine; `carried` are open items that earlier phases left."""
    narrowed = for_engine(checklist, options(engine))
    again = tuple(_at_the_gate(s, narrowed) for s in narrowed.steps if s.again)
    own = {s.id for s in (*narrowed.steps, *again)}
    old = tuple(replace(s, after=(), due=None) for s in carried if s.id not in own)
    skipped = tuple(s.id for s in old)
    return Progress(narrowed, engine, (*narrowed.steps, *again, *old), at, skipped=skipped)


def _at_the_gate(step: Step, checklist: Checklist) -> Step:
    """The step as it is asked once more, after everything else in its list."""
    others = tuple(s.id for s in checklist.steps if not s.waiting)
    return replace(
        step, id=step.id + AGAIN, say=step.again, again="", after=others,
        due=None, caution="", only_when_asked=True, pause=False,
    )  # fmt: skip


def notice(progress: Progress, pressure_gauge_pa: float | None) -> Progress:
    """Make the steps due whose pressure the gauge has reached; None: not known, no change."""
    if pressure_gauge_pa is None:
        return progress
    reached = {
        s.id
        for s in progress.steps
        if s.due is not None and level(s.due, progress.engine) <= pressure_gauge_pa
    }
    return replace(progress, due=progress.due | reached)


def is_due(progress: Progress, step: Step) -> bool:
    """The step may be asked: its pressure has been reached and what it waits for is done."""
    reached = step.due is None or step.id in progress.due
    return reached and may_count(progress, step)


def may_count(progress: Progress, step: Step) -> bool:
    """A report may answer the step, asked or not: the steps that must go before it are done."""
    return all(progress.is_done(a) or a in progress.skipped for a in step.after)


def open_steps(progress: Progress) -> tuple[Step, ...]:
    """Every step not answered yet, in order, skipped ones too."""
    return tuple(s for s in progress.steps if not progress.is_done(s.id))


def open_items(progress: Progress) -> tuple[Step, ...]:
    """The steps left open aloud, in order: read out at the end of a phase, asked at its gate."""
    return tuple(s for s in open_steps(progress) if s.id in progress.skipped)


def current(progress: Progress) -> Step | None:
    """The step to ask now; None while the rest waits for pressure, or when nothing is left.

    Steps marked `waiting` come last, skipped ones once more after those.
    """
    fresh = [s for s in open_steps(progress) if s.id not in progress.skipped]
    ready = [s for s in fresh if is_due(progress, s) and not s.waiting]
    if ready:
        return ready[0]
    if any(not s.waiting for s in fresh):
        return None
    idle = [s for s in fresh if is_due(progress, s)]
    gate = [s for s in open_items(progress) if s.id not in progress.left]
    return next(iter(idle + gate), None)


def offered(progress: Progress) -> Step | None:
    """What can be done in the meantime while `current` has nothing."""
    if current(progress) is not None:
        return None
    idle = (s for s in open_steps(progress) if s.waiting and s.id not in progress.skipped)
    return next((s for s in idle if is_due(progress, s)), None)


def waits_for(progress: Progress) -> Step | None:
    """The next step in order that is not due yet."""
    return next((s for s in open_steps(progress) if not is_due(progress, s)), None)


def in_hand(progress: Progress) -> Step | None:
    """The step an unnamed answer ("ready", a bare number) belongs to: asked, and still open."""
    if progress.asked is None or progress.is_done(progress.asked):
        return None
    return progress.step(progress.asked)


def ask(progress: Progress, step: Step) -> Progress:
    """Remember that the step was put to the operator."""
    return replace(progress, asked=step.id)


def answers(progress: Progress) -> tuple[tuple[str, Report], ...]:
    """The forms of words that count now, each once: the step in hand first, then its neighbours.

    Neighbours are the open steps up to the next pause. Their forms count only if they name their
    subject in two words or more, and if no step before them uses the same form.
    """
    hand = in_hand(progress) or current(progress) or offered(progress)
    found: dict[str, Report] = dict(hand.answers()) if hand else {}
    for step in neighbours(progress, hand):
        for form, report in step.answers():
            if _names(form, step):
                found.setdefault(form, report)
    return tuple(found.items())


def neighbours(progress: Progress, step: Step | None) -> tuple[Step, ...]:
    """The open steps between the pauses round a step, itself too; the whole list for None."""
    steps = progress.steps
    if step is None:
        return tuple(s for s in open_steps(progress) if may_count(progress, s))
    here = steps.index(step)
    ends = [i for i, s in enumerate(steps) if s.pause]
    first = max((i + 1 for i in ends if i < here), default=0)
    last = min((i for i in ends if i >= here), default=len(steps) - 1)
    section = steps[first : last + 1]
    return tuple(s for s in section if not progress.is_done(s.id) and may_count(progress, s))


def _names(form: str, step: Step) -> bool:
    words = form.split()
    return len(words) >= 2 and bool(set(words) & set(step.asks.replace("-", " ").split()))


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
        progress = replace(progress, last=(*kept, (report.what, value, words(report))))
    progress, reopened = _reopen(progress, report)
    hand = in_hand(progress)
    verdicts = [(s, _verdict(progress, s, report)) for s in open_steps(progress)]
    judged = [(s, v) for s, v in verdicts if v is not None]
    passing = [s for s, v in judged if v == ""]
    if passing:
        step = hand if hand in passing else passing[0]
        one = _complete(progress, step, words(report), at)
        return replace(one, reopened=reopened)
    failing = [(s, v) for s, v in judged if s == hand or s in reopened]
    if failing:
        step, said = failing[0]
        return Outcome(progress, say=said or "", failed=(step,), reopened=reopened)
    return Outcome(progress if value is not None else before, reopened=reopened)


def _verdict(progress: Progress, step: Step, report: Report) -> str | None:
    """None: not this step's business; "": it passes; else what is said because it does not."""
    if report.what != step.asks or not may_count(progress, step):
        return None
    if step.only_when_asked and step.id != progress.asked:
        return None
    return _said(progress, step, report)


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


def holds_open(progress: Progress) -> tuple[Step, ...]:
    """The killers and holds that are not answered yet."""
    return tuple(s for s in open_steps(progress) if s.must)


def can_leave(progress: Progress) -> bool:
    """Every killer and hold is answered, the rest is answered or was left open twice aloud."""
    return all(not s.must and s.id in progress.left for s in open_steps(progress))


def words(report: Report) -> str:
    """The report as it is kept in the book.

    >>> words(Report("pressure", 75.0, "psi"))
    'pressure 75 psi'
    """
    value = report.value if isinstance(report.value, str) else f"{report.value:g}"
    return " ".join(filter(None, (report.what, value, report.unit)))
