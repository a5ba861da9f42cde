"""An owner's list that extends a shipped one, step by step. Values only; knows no file format."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from assistant.procedure.checklist import Checklist, Step


def overlay(base: Checklist, owner: Checklist) -> Checklist:
    """`base` with the owner's steps: the same id replaces, a new one goes after `put_after`.

    Every step keeps the file it came from. A killer or hold of the base is never left out, and a
    step that replaces one stays one; it is meant for the same state of the engine, proves the same
    and has the same warm form unless it names its own.
    """
    replaced = {s.id: s for s in owner.steps if s.id in base.ids}
    steps = [
        _keeping(s, replaced[s.id]) if s.id in replaced else s
        for s in base.steps
        if s.must or s.id not in owner.leave_out
    ]
    for new in (s for s in owner.steps if s.id not in base.ids):
        steps.insert(_place(steps, new), new)
    return replace(
        base,
        title=owner.title or base.title,
        opening=owner.opening or base.opening,
        closing=owner.closing or base.closing,
        steps=tuple(steps),
        file=owner.file or base.file,
    )


def replace_list(lists: Iterable[Checklist], new: Checklist) -> tuple[Checklist, ...]:
    """The lists with `new` in place of the one of that name or phase, or at the end."""
    updated = list(lists)
    for place, old in enumerate(updated):
        if old.name == new.name or (old.phase is not None and old.phase is new.phase):
            updated[place] = new
            return tuple(updated)
    return (*updated, new)


def _keeping(base: Step, owner: Step) -> Step:
    same_gain = owner.kind == base.kind and owner.asks == base.asks and not owner.gain_on
    return replace(
        owner,
        killer=owner.killer or base.killer,
        hold=owner.hold or base.hold,
        while_=owner.while_ or base.while_,
        proves=owner.proves or base.proves,
        warm=owner.warm or base.warm,
        gain_on=base.gain_on if same_gain else owner.gain_on,
        no_gain=base.no_gain if same_gain else owner.no_gain,
    )


def _place(steps: list[Step], new: Step) -> int:
    """Where a new step goes: after the step it names, or at the end."""
    places = [i for i, s in enumerate(steps) if s.id == new.put_after]
    return places[0] + 1 if places else len(steps)


def step_origins(checklist: Checklist) -> dict[str, tuple[str, int]]:
    """For each step, the file and the line it came from."""
    return {s.id: (s.file, s.line) for s in checklist.steps}
