"""Where we are in a checklist: what is done, due, open, in hand. Pure.

`progress.py` says what an answer does. Knows no speech and no clock.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from assistant.boiler.figures import Engine
from assistant.messages import Report
from assistant.procedure.checklist import Bound, Checklist, Step
from assistant.procedure.scale import level

VALVE_TOLERANCE = 1.03  # a valve may lift so much below its set pressure: ASME I, 70 to 300 psi


@dataclass(frozen=True, slots=True)
class Done:
    """A step that was answered: by what, and when [s]."""

    step: str
    answer: str
    at: float
    value: float | None = field(default=None, compare=False)
    """The number of a value step: a fraction or Pa gauge."""


@dataclass(frozen=True)
class Progress:
    """How far a checklist has come."""

    checklist: Checklist
    engine: Engine
    steps: tuple[Step, ...]
    """The steps for this engine, then those asked again, then open items of earlier phases."""
    began_at: float
    """When the list began [s]."""
    done: tuple[Done, ...] = ()
    """The answered steps, in the order they were answered."""
    skipped: tuple[str, ...] = ()
    """Ids of the steps left open aloud."""
    unanswered: tuple[str, ...] = ()
    """Of these the ones that were left open because nobody answered, not by the operator."""
    left: tuple[str, ...] = ()
    """Ids of the steps that were asked once more at the gate and left open again."""
    asked: str | None = None
    """Id of the step that was last put to the operator."""
    overtaken: tuple[str, ...] = ()
    """Ids of the steps whose time was over before they were answered: not open, never done."""
    due: frozenset[str] = frozenset()
    """Ids of the steps whose pressure or warmth has been reached once; they stay due."""
    last: tuple[tuple[str, float, str], ...] = ()
    """The last number of each subject: (subject, fraction or Pa gauge, words)."""

    def step(self, step_id: str) -> Step:
        """The step of that id; KeyError if there is none."""
        for step in self.steps:
            if step.id == step_id:
                return step
        raise KeyError(step_id)

    @cached_property
    def answered(self) -> frozenset[str]:
        """Ids of the steps that were answered."""
        return frozenset(done.step for done in self.done)

    @cached_property
    def forms(self) -> tuple[tuple[str, Report], ...]:
        """`possible_answers`, computed once: wanted at every tick, changed by few."""
        return _answers(self)

    @cached_property
    def passing_forms(self) -> tuple[tuple[str, Report], ...]:
        """`said_in_passing`, computed once."""
        return _said_in_passing(self)

    @cached_property
    def next_step(self) -> Step | None:
        """`current`, computed once."""
        return _current(self)

    def is_done(self, step_id: str) -> bool:
        """Whether the step was answered."""
        return step_id in self.answered

    def is_settled(self, step_id: str) -> bool:
        """Whether the step waits for nothing more: answered, or overtaken."""
        return step_id in self.answered or step_id in self.overtaken


def mark_due(
    progress: Progress, pressure_gauge_pa: float | None, near_boiling: bool = False
) -> Progress:
    """Make the steps due whose pressure the gauge has reached (None: not known).

    near_boiling: the water is believed to be near boiling; steps that wait for that become due.
    """
    due = progress.due
    if near_boiling or (pressure_gauge_pa or 0.0) > 0.0:
        due |= {s.id for s in progress.steps if s.near_boiling}
    if pressure_gauge_pa is not None:
        due |= {
            s.id
            for s in progress.steps
            if s.due is not None and due_gauge_pa(s.due, progress.engine) <= pressure_gauge_pa
        }
    return progress if due == progress.due else replace(progress, due=due)


def is_due(progress: Progress, step: Step) -> bool:
    """Whether the step may be asked: its pressure is reached and the steps before it are done."""
    waits = step.due is not None or step.near_boiling
    reached = not waits or step.id in progress.due
    return reached and may_count(progress, step)


def may_count(progress: Progress, step: Step) -> bool:
    """Whether a report may answer the step, asked or not: the steps before it are settled."""
    return all(progress.is_settled(a) or a in progress.skipped for a in step.after)


def open_steps(progress: Progress) -> tuple[Step, ...]:
    """Every step neither answered nor overtaken, in order, skipped ones too."""
    return tuple(s for s in progress.steps if not progress.is_settled(s.id))


def open_items(progress: Progress) -> tuple[Step, ...]:
    """The steps left open aloud, in order; read out at the end of a phase, asked at its gate."""
    return tuple(s for s in open_steps(progress) if s.id in progress.skipped)


def current(progress: Progress) -> Step | None:
    """The step to ask now; None while the rest waits for pressure, or when nothing is left.

    Steps marked `waiting` come last, skipped ones once more after those.
    """
    return progress.next_step


def ready_steps(progress: Progress) -> tuple[Step, ...]:
    """Every step that may be asked now, in order, without skipped ones and idle work."""
    fresh = (s for s in open_steps(progress) if s.id not in progress.skipped)
    return tuple(s for s in fresh if is_due(progress, s) and not s.waiting)


def _current(progress: Progress) -> Step | None:
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
    """The work to offer while `current` has nothing."""
    if current(progress) is not None:
        return None
    idle = (s for s in open_steps(progress) if s.waiting and s.id not in progress.skipped)
    return next((s for s in idle if is_due(progress, s)), None)


def next_waiting(progress: Progress) -> Step | None:
    """The next step in order that is not due yet."""
    return next((s for s in open_steps(progress) if not is_due(progress, s)), None)


def next_due(progress: Progress) -> float | None:
    """The lowest pressure [Pa gauge] at which a step becomes due that is not due yet."""
    waiting = [s for s in open_steps(progress) if s.due is not None and s.id not in progress.due]
    dues = (due_gauge_pa(s.due, progress.engine) for s in waiting if s.due is not None)
    return min(dues, default=None)


def due_gauge_pa(due: Bound, engine: Engine) -> float:
    """The pressure [Pa gauge] at which a step becomes due: no higher than where the valve moves.

    A pressure above that may never come: the valve may be set at the working pressure, and lift a
    little below it.
    """
    moves = min(engine.valve_moves_gauge_pa, engine.valve_lifts_gauge_pa / VALVE_TOLERANCE)
    return min(level(due, engine), moves)


def in_hand(progress: Progress) -> Step | None:
    """The step that was asked and is still open; "ready" or a bare number answers it."""
    if progress.asked is None or progress.is_settled(progress.asked):
        return None
    return progress.step(progress.asked)


def put_step(progress: Progress, step: Step) -> Progress:
    """Remember that the step was put to the operator."""
    return replace(progress, asked=step.id)


def set_aside(progress: Progress, step: Step) -> Progress:
    """Leave a step open without putting it: it is put at the end of its list, if still open."""
    asked = None if progress.asked == step.id else progress.asked
    return replace(progress, skipped=(*progress.skipped, step.id), asked=asked)


def first(progress: Progress, step_ids: Sequence[str]) -> Progress:
    """These steps before the others, in their own order; none is in hand."""
    of_these = [step for step in progress.steps if step.id in step_ids]
    others = [step for step in progress.steps if step.id not in step_ids]
    return replace(progress, steps=(*of_these, *others), asked=None)


def possible_answers(progress: Progress) -> tuple[tuple[str, Report], ...]:
    """The forms of words that count now, each once, with what the first step with it means by it.

    The step in hand comes first. Any other open step is answered only by forms of two words or
    more that name its subject, once the steps before it are done.
    """
    return progress.forms


def _answers(progress: Progress) -> tuple[tuple[str, Report], ...]:
    hand = in_hand(progress) or current(progress) or offered(progress)
    meanings: dict[str, Report] = dict(hand.answers()) if hand else {}
    overtaken = (step for step in progress.steps if step.id in progress.overtaken)
    for form, report in (answer for step in overtaken for answer in step.answers()):
        meanings.setdefault(form, report)  # true all the same, whenever it is said
    for step in open_steps(progress):
        for form, report in step.answers() if may_count(progress, step) else ():
            if _names_subject(form, step):
                meanings.setdefault(form, report)
    return tuple(meanings.items())


def said_in_passing(progress: Progress) -> tuple[tuple[str, Report], ...]:
    """The forms that name their subject, of every step whose turn has come or is past.

    They are true whenever they are said: of a step that is done they may say that it is so no more.
    """
    return progress.passing_forms


def _said_in_passing(progress: Progress) -> tuple[tuple[str, Report], ...]:
    meanings: dict[str, Report] = {}
    for step in progress.steps:
        for form, report in step.answers() if may_count(progress, step) else ():
            if _names_subject(form, step):
                meanings.setdefault(form, report)
    return tuple(meanings.items())


def _names_subject(form: str, step: Step) -> bool:
    words, subject = form.split(), step.asks.replace("-", " ").split()
    return len(words) >= 2 and any(word.startswith(part) for word in words for part in subject)


def holds_open(progress: Progress) -> tuple[Step, ...]:
    """The killers and holds that are not answered yet."""
    return tuple(s for s in open_steps(progress) if s.must)


def can_leave(progress: Progress) -> bool:
    """Whether all is answered, or was left open aloud twice and is no killer or hold."""
    return all(not s.must and s.id in progress.left for s in open_steps(progress))
