"""An owner's list laid over one of ours, step by step. Values only; knows no file format."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from assistant.procedure.checklist import Checklist, Step


def overlay(base: Checklist, own: Checklist) -> Checklist:
    """`base` with the owner's steps: the same id replaces, a new one goes behind `put_after`.

    Every step keeps the file it came from. Left-out steps go, but never a killer or a hold of the
    base, and a step that replaces one of those stays one (`proof.objections` tells the owner so).
    """
    replaced = {s.id: s for s in own.steps if s.id in base.ids}
    steps = [
        _keeping_holds(s, replaced[s.id]) if s.id in replaced else s
        for s in base.steps
        if s.must or s.id not in own.leave_out
    ]
    for new in (s for s in own.steps if s.id not in base.ids):
        steps.insert(_place(steps, new), new)
    return replace(
        base,
        title=own.title or base.title,
        opening=own.opening or base.opening,
        closing=own.closing or base.closing,
        steps=tuple(steps),
        file=own.file or base.file,
    )


def in_place(lists: Iterable[Checklist], new: Checklist) -> tuple[Checklist, ...]:
    """The lists with `new` in the place of ours of that name or phase, else behind them."""
    kept = list(lists)
    for place, ours in enumerate(kept):
        if ours.name == new.name or (ours.phase is not None and ours.phase is new.phase):
            kept[place] = new
            return tuple(kept)
    return (*kept, new)


def _keeping_holds(ours: Step, owners: Step) -> Step:
    return replace(owners, killer=owners.killer or ours.killer, hold=owners.hold or ours.hold)


def _place(steps: list[Step], new: Step) -> int:
    """Where a new step goes: behind the step it names, else at the end."""
    places = [i for i, s in enumerate(steps) if s.id == new.put_after]
    return places[0] + 1 if places else len(steps)


def came_from(checklist: Checklist) -> dict[str, tuple[str, int]]:
    """For each step, the file and the line it came from."""
    return {s.id: (s.file, s.line) for s in checklist.steps}
