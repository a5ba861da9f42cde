"""Validation of warm forms: do they exist, and does every killer that lapses have one? Pure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from assistant.errors import Problem
from assistant.procedure.checklist import Checklist, Step
from assistant.procedure.conditions import wants_warm_form
from assistant.procedure.lapsing import warm_form


def warm_objections(lists: Iterable[Checklist]) -> tuple[Problem, ...]:
    """Warm forms named in a list that is there, which has no such step."""
    known = {c.name: c for c in lists}
    return tuple(
        _problem(c, s, f"'warm': there is no step {s.warm!r}")
        for c, s in _steps(known.values())
        if s.warm and _list_of(c, s) in known and warm_form(s, known.values(), c) is None
    )


def warm_cautions(lists: Iterable[Checklist]) -> tuple[Problem, ...]:
    """Killers that lapse with steam in her and leave nothing in their place: no mistake, a caution.

    Where an owner's list takes the place of the one that the warm form is in, there is none.
    """
    known = {c.name: c for c in lists}
    cautions = []
    for c, s in _steps(known.values()):
        if wants_warm_form(s) and warm_form(s, known.values(), c) is None:
            named = f" (there is no list {_list_of(c, s)!r})" if s.warm else ""
            text = f"it lapses once she is {_later(s)}, and nothing takes its place: give 'warm'"
            cautions.append(_problem(c, s, text + named))
    return tuple(cautions)


def _later(step: Step) -> str:
    later = {"unlit": "lit", "cold": "in steam", "fire in": "without a fire", "motion": "stopped"}
    return later[step.while_]


def _list_of(checklist: Checklist, step: Step) -> str:
    name, _, _ = step.warm.rpartition("/")
    return name or checklist.name


def _steps(lists: Iterable[Checklist]) -> Iterator[tuple[Checklist, Step]]:
    return ((c, s) for c in lists for s in c.steps)


def _problem(checklist: Checklist, step: Step, text: str) -> Problem:
    line = step.line
    return Problem(step.file or checklist.file, line, 1 if line else 0, f"step {step.id!r}: {text}")
