"""Steps that the engine has overtaken, and steps that the picture has proved already. Pure.

`conditions.py` has the table of what is over when. What the engine is, and what is proved, is
given: no reading, no picture and no clock is known here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from assistant.procedure.checklist import Checklist, Step, fits
from assistant.procedure.conditions import over, wants_warm_form
from assistant.procedure.position import Done, Progress, is_due, open_steps
from assistant.procedure.progress import ASKED_AGAIN
from assistant.procedure.scale import judge, options

PROVED = "proved: "  # begins the answer of a step that nobody had to be asked


def lapse(progress: Progress, true_conditions: frozenset[str]) -> tuple[Progress, tuple[Step, ...]]:
    """Every open step whose `while` is over counts as overtaken; those that are new in it.

    true_conditions: the words of `conditions.CONDITIONS` that are known to be so. A step that was
    overtaken stays so: it is never done, and a later fall of the pressure does not bring it back.
    """
    lapsed = tuple(s for s in open_steps(progress) if over(s.while_, true_conditions))
    if not lapsed:
        return progress, ()
    ids = tuple(step.id for step in lapsed)
    return replace(progress, overtaken=(*progress.overtaken, *ids)), lapsed


def open_again(progress: Progress, true_conditions: frozenset[str]) -> Progress:
    """What had overtaken the steps was no fact: those are open again whose `while` is not over."""
    over_now = {s.id for s in _overtaken(progress) if over(s.while_, true_conditions)}
    return replace(progress, overtaken=tuple(i for i in progress.overtaken if i in over_now))


def warm_wanted(
    progress: Progress,
    lists: Iterable[Checklist],
    true_conditions: frozenset[str] = frozenset(),
    proved: frozenset[str] = frozenset(),
) -> tuple[Step, ...]:
    """The warm forms of the overtaken steps, each once, in the order of those steps.

    lists: every list of the session, where "list / step" is looked up. Not wanted: one that is done
    in this progress or still open in it (its own list asks it), one that is not for this engine,
    one whose own condition is over, and one whose field is proved.
    """
    known = tuple(lists)
    own = {s.id for s in progress.steps}
    wanted: dict[str, Step] = {}
    for step in _overtaken(progress):
        warm = warm_form(step, known, progress.checklist)
        if warm is None or warm.id in own or warm.proves in proved:
            continue
        if fits(warm, options(progress.engine)) and not over(warm.while_, true_conditions):
            wanted.setdefault(warm.id, warm)
    return tuple(wanted.values())


def warm_form(step: Step, lists: Iterable[Checklist], own: Checklist) -> Step | None:
    """The step that takes the place of `step`; None where none is named or the lists lack it.

    own: the list of `step`, for a warm form without the name of a list.
    """
    name, _, step_id = step.warm.rpartition("/")
    if not step_id:
        return None
    places = [own] if not name else [c for c in lists if c.name == name]
    return next((s for c in places for s in c.steps if s.id == step_id), None)


def left_over(progress: Progress, lists: Iterable[Checklist]) -> tuple[Step, ...]:
    """The overtaken killers that nothing takes the place of: told once, and kept in the report."""
    known = tuple(lists)
    return tuple(
        s
        for s in _overtaken(progress)
        if wants_warm_form(s) and warm_form(s, known, progress.checklist) is None
    )


def asked_anew(progress: Progress, since: float) -> Progress:
    """After a long break: killers and holds that a state answered up to `since` [s] are open again.

    Readings keep their time, and are asked for by their age.
    """
    guards = {step.id for step in progress.steps if step.must and step.kind != "value"}
    done = tuple(d for d in progress.done if d.step not in guards or d.at > since)
    return progress if len(done) == len(progress.done) else replace(progress, done=done)


def satisfy(
    progress: Progress,
    proved: frozenset[str],
    at: float,
    values: Mapping[str, float] | None = None,
) -> tuple[Progress, tuple[Done, ...]]:
    """Open steps whose field the picture has proved are done without being asked.

    proved: fields of `conditions.PROOFS`, each with a witness that is fresh enough. at: now [s].
    values: the level and the pressure that are believed, by subject, as a fraction or in Pa gauge;
    a step with limits is done only where the last value of its subject lies within them. Not steps
    that ask on purpose (`only_when_asked`, or once more at the gate), nor before their turn
    (`after`, `due`).
    """
    last = {subject: value for subject, value, _ in progress.last} | dict(values or {})
    done: tuple[Done, ...] = ()
    for step in open_steps(progress):
        if step.proves not in proved or _asks_on_purpose(step):
            continue
        if is_due(progress, step) and _within(progress, step, last):
            one = Done(step.id, PROVED + step.proves, at, last.get(step.asks))
            done = (*done, one)
            progress = replace(progress, done=(*progress.done, one))
    return progress, done


def _overtaken(progress: Progress) -> tuple[Step, ...]:
    return tuple(s for s in progress.steps if s.id in progress.overtaken)


def _asks_on_purpose(step: Step) -> bool:
    return step.only_when_asked or step.id.endswith(ASKED_AGAIN)


def _within(progress: Progress, step: Step, last: Mapping[str, float]) -> bool:
    if step.kind != "value" or step.limits is None:
        return True
    value = last.get(step.asks)
    return value is not None and judge(step.limits, value, progress.engine) is None
