"""What a checklist is: phases, steps, the answers they accept. Knows no formula and no file.

The text form of all this is described in `checklists/README.md`; `progress.py` says where we are.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from enum import Enum
from typing import Literal

from assistant.messages import Report

NO_SOURCE = "common practice, no source"


class Phase(Enum):
    """The phases of the walk-through, in the words of the trade."""

    PREPARATION = "preparation"
    FIRING = "firing"
    RAISING_STEAM = "raising steam"
    TICK_OVER = "tick-over"
    PUMPING = "pumping"
    STANDING_BY = "standing by"
    PUTTING_AWAY = "putting away"


# Names of the engine's own figures that a bound may use, with the subject each belongs to.
FIGURES: dict[str, str] = {
    "lower mark": "water",
    "upper mark": "water",
    "cold fill": "water",
    "working pressure": "pressure",
    "valve feathers": "pressure",
    "valve lifts": "pressure",
    "wood until": "pressure",
    "gauge top": "pressure",
}

# What an engine may have, for `Step.when`; the last three follow from its figures.
OPTIONS = frozenset(
    {
        "hand pump", "injector", "geared pump", "mechanical lubricator", "chimney extension",
        "grease", "lever valve", "pump", "tank", "standing feed",
    }
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Bound:
    """A limit: so many times one of the engine's own figures, or a number of its own.

    figure: a name of `FIGURES`, or "" when `value` alone counts.
    times: factor on the figure.
    value: Pa gauge for pressure, fraction of the glass for water, fraction of the tank for tank;
        added to `times * figure` when there is a figure.
    """

    figure: str = ""
    times: float = 1.0
    value: float = 0.0


@dataclass(frozen=True, slots=True)
class Limits:
    """Where a value must lie to pass; `too_low` or `too_high` is said when it does not."""

    at_least: Bound | None = None
    at_most: Bound | None = None
    too_low: str = ""
    too_high: str = ""


@dataclass(frozen=True, slots=True)
class Reply:
    """One state that a step accepts as its answer.

    state: becomes `Report(step.asks, state)`.
    spoken: the forms of words, lower case, no figures.
    passes: the step is done by it; False: heard and understood, the step stays open.
    then: what is said when it does not pass (twelve words at most).
    """

    state: str
    spoken: tuple[str, ...]
    passes: bool = True
    then: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One thing asked of the operator.

    id: unique in its checklist, plain words ("water in the glass").
    say: what is asked, twelve words and two acts at most.
    asks: the subject reported (`Report.what`): "water", "pressure", "gear" ...
    kind: "value" is answered by a number (and by any of `replies`), "state" by one of `replies`,
        "act" by one of `replies` or by "ready".
    limits: for a value.
    killer: answered by a state or a value only; never skipped; the phase does not close without it.
    hold: the next phase does not begin without it; never skipped.
    again: what is said when the step is asked once more at the end of its phase; "" = it is not.
    only_when_asked: a value counts only as the answer to the question, not as a reading in passing.
    if_needed: not asked when the last value of its subject already lies within the limits.
    why: the reason, for "why?". caution: said before `say`. remark: said once the step is done.
    minutes: how long it is expected to take.
    when: options of the engine that must all be there; "not X" asks for its absence.
    after: ids of steps that must be done before this one counts or is asked.
    due: the step is not asked before the gauge shows this pressure.
    near_boiling: not asked before the water is believed near boiling, or the gauge has moved.
    waiting: may be offered while waiting for pressure or time.
    pause: a natural pause follows this step.
    source: where it comes from, or `NO_SOURCE`.
    file, line: where it stands, 0 when it was made in code.
    put_after: for an owner's own list: the step of ours it is put behind ("" = at the end).
    """

    id: str
    say: str
    asks: str
    kind: Literal["value", "state", "act"]
    replies: tuple[Reply, ...] = ()
    limits: Limits | None = None
    killer: bool = False
    hold: bool = False
    again: str = ""
    only_when_asked: bool = False
    if_needed: bool = False
    why: str = ""
    caution: str = ""
    remark: str = ""
    minutes: float = 0.0
    when: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    due: Bound | None = None
    near_boiling: bool = False
    waiting: bool = False
    pause: bool = False
    source: str = NO_SOURCE
    file: str = ""
    line: int = 0
    put_after: str = ""

    @property
    def must(self) -> bool:
        """The step can neither be skipped nor left open."""
        return self.killer or self.hold

    def examples(self) -> tuple[str, ...]:
        """The first form of each reply: what may be said, without saying one thing twice."""
        return tuple(reply.spoken[0] for reply in self.replies if reply.spoken)

    def answers(self) -> tuple[tuple[str, Report], ...]:
        """Every spoken form of every reply with what it means, for `Expected.answers`."""
        return tuple((form, Report(self.asks, r.state)) for r in self.replies for form in r.spoken)


@dataclass(frozen=True, slots=True, kw_only=True)
class Checklist:
    """The steps of one phase, in order, or of one cure.

    phase: the phase, or None for a cure.
    symptom: for a cure, the spoken forms that call it up ("pump not working").
    opening: said when the list begins; closing: said when it is done.
    base: the name of the list this one extends and overrides step by step ("" = stands by itself).
    leave_out: ids of steps of the base that are left out (never a killer or a hold).
    """

    name: str
    title: str
    phase: Phase | None
    steps: tuple[Step, ...]
    opening: str = ""
    closing: str = ""
    symptom: tuple[str, ...] = ()
    base: str = ""
    leave_out: tuple[str, ...] = ()
    file: str = ""
    ids: frozenset[str] = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "ids", frozenset(step.id for step in self.steps))

    def step(self, step_id: str) -> Step:
        """The step of that id; KeyError if there is none."""
        for step in self.steps:
            if step.id == step_id:
                return step
        raise KeyError(step_id)


def fits(step: Step, options: frozenset[str]) -> bool:
    """Whether the step applies to an engine with these options."""
    return all((o.removeprefix("not ") in options) != o.startswith("not ") for o in step.when)


def for_engine(checklist: Checklist, options: frozenset[str]) -> Checklist:
    """The checklist with only the steps that apply; requirements on steps that fell away go too."""
    kept = tuple(s for s in checklist.steps if fits(s, options))
    ids = {s.id for s in kept}
    steps = tuple(replace(s, after=tuple(a for a in s.after if a in ids)) for s in kept)
    return replace(checklist, steps=steps)
