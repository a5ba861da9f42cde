"""What a checklist is: phases, steps, the answers they accept. Knows no formula and no file.

The text form is described in `checklists/README.md`; `position.py` says where we are in a list.
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


# Names of the engine's figures that a bound may use, with the subject each belongs to.
FIGURES: dict[str, str] = {
    "lower mark": "water",
    "upper mark": "water",
    "cold fill": "water",
    "working pressure": "pressure",
    "valve feathers": "pressure",
    "valve lifts": "pressure",
    "allowed pressure": "pressure",
    "wood until": "pressure",
    "injector from": "pressure",
    "gauge top": "pressure",
}

# What an engine may have, for `Step.when`; the last three follow from its figures.
OPTIONS = frozenset(
    {
        "hand pump", "injector", "geared pump", "mechanical lubricator", "chimney extension",
        "grease", "lever valve", "try cocks", "glass protector", "pump", "tank", "standing feed",
        "no blower", "no drain cocks", "blower", "drain cocks", "wheels", "road gear",
    }
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Bound:
    """A limit: a multiple of one of the engine's figures, plus a number."""

    figure: str = ""
    """A name of `FIGURES`, or "" when `value` alone counts."""
    times: float = 1.0
    """Factor on the figure."""
    value: float = 0.0
    """Pa gauge for a pressure, a fraction for water and tank; added to `times * figure`."""


@dataclass(frozen=True, slots=True)
class Limits:
    """Where a value must lie to pass; `too_low` or `too_high` is said when it does not."""

    at_least: Bound | None = None
    at_most: Bound | None = None
    too_low: str = ""
    too_high: str = ""


@dataclass(frozen=True, slots=True)
class Reply:
    """One state that a step accepts as its answer."""

    state: str
    """Becomes `Report(step.asks, state)`."""
    spoken: tuple[str, ...]
    """The forms of words, in lower case, without figures."""
    passes: bool = True
    """The step is done by it; False: it is understood, but the step stays open."""
    then: str = ""
    """What is said when it does not pass (twelve words at most)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One thing asked of the operator."""

    id: str
    """Unique in its checklist, in plain words ("water in the glass")."""
    say: str
    """What is asked, twelve words and two acts at most."""
    asks: str
    """The subject reported (`Report.what`): "water", "pressure", "gear" ..."""
    kind: Literal["value", "state", "act"]
    """What answers it: a number, or any of `replies`; one of `replies`; the same, or "ready"."""
    replies: tuple[Reply, ...] = ()
    """The states that answer it."""
    limits: Limits | None = None
    """Where a value must lie."""
    killer: bool = False
    """Never skipped, answered by a state or a value only; the phase does not end without it."""
    hold: bool = False
    """Never skipped; the next phase does not begin without it."""
    again: str = ""
    """What is said when it is asked once more at the end of its phase; "" = it is not."""
    only_when_asked: bool = False
    """A value counts only as the answer to the question, not when reported in passing."""
    if_needed: bool = False
    """Not asked when the last value of its subject already lies within the limits."""
    why: str = ""
    """The reason, for "why?"."""
    how: tuple[str, ...] = ()
    """Its acts one by one, for "show me how"; none: `caution` and `say` are given instead."""
    caution: str = ""
    """Said before `say`."""
    remark: str = ""
    """Said once the step is done."""
    minutes: float = 0.0
    """How long it is expected to take."""
    when: tuple[str, ...] = ()
    """Options that the engine must all have; "not X" asks for the absence of X."""
    after: tuple[str, ...] = ()
    """Ids of steps that must be done before this one counts or is asked."""
    due: Bound | None = None
    """Not asked before the gauge shows this pressure."""
    near_boiling: bool = False
    """Not asked before the water is believed near boiling, or the gauge has moved."""
    waiting: bool = False
    """May be offered while waiting for pressure or time."""
    pause: bool = False
    """A natural pause follows it."""
    while_: str = ""
    """For which state of the engine it is meant (see `conditions.py`). A file's reader fills in its
    phase's where the file gives none; "" never ends."""
    proves: str = ""
    """The field of the picture that it proves (`conditions.PROOFS`); "" = none."""
    warm: str = ""
    """The step that is wanted in its place once there is steam: "list/step", or a step of its own
    list; "" = none."""
    gain_on: str = ""
    """Id of an earlier step about the same subject: the value passes only when it is higher by
    what a glass can show (`progress.SHOWN_GAIN`)."""
    no_gain: str = ""
    """What is said when it is not."""
    source: str = NO_SOURCE
    """Where it comes from, or `NO_SOURCE`."""
    file: str = ""
    """The file it was read from; "" when it was made in code."""
    line: int = 0
    """The line in that file; 0 when it was made in code."""
    put_after: str = ""
    """In an owner's list, the step of the base after which it is put ("" = at the end)."""

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
    """The steps of one phase, or of one remedy, in order."""

    name: str
    """Unique among the lists."""
    title: str
    """Its name as it is said and shown."""
    phase: Phase | None
    """The phase, or None for a remedy."""
    steps: tuple[Step, ...]
    """The steps in order."""
    opening: str = ""
    """Said when the list begins."""
    closing: str = ""
    """Said when it is done."""
    symptom: tuple[str, ...] = ()
    """For a remedy, the spoken forms that call it up ("pump not working")."""
    base: str = ""
    """The name of the list this one extends and overrides step by step ("" = none)."""
    leave_out: tuple[str, ...] = ()
    """Ids of steps of the base that are left out (never a killer or a hold)."""
    file: str = ""
    """The file it was read from."""
    ids: frozenset[str] = field(init=False, compare=False, repr=False)
    """The ids of its steps."""

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
    """The checklist with only the steps that apply, and requirements only on those."""
    applying = tuple(s for s in checklist.steps if fits(s, options))
    ids = {s.id for s in applying}
    steps = tuple(replace(s, after=tuple(a for a in s.after if a in ids)) for s in applying)
    return replace(checklist, steps=steps)
