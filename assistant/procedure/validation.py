"""Validation of checklists before a session starts. Values in, problems out; reads no file.

Limits: human-factors practice (nine items before a pause, the killer in the first third, three acts
from memory). Grammar conflicts and phonetic likeness are judged by functions passed in.
"""

from __future__ import annotations

import operator
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from assistant.boiler.figures import Engine
from assistant.errors import Problem
from assistant.procedure.checklist import Checklist, Phase, Step, for_engine
from assistant.procedure.emergency import Emergencies
from assistant.procedure.scale import level, options
from assistant.procedure.step_validation import (
    MOST_PROMPT_WORDS,
    Alike,
    Collides,
    prompt_word_count,
    step_objections,
)

SECTION_STEPS = 9
EMERGENCY_ACTS = 3


def objections(
    checklist: Checklist, collides: Collides | None = None, alike: Alike = operator.eq
) -> tuple[Problem, ...]:
    """Every objection to a list, in the order of its steps.

    collides: what the grammar objects to in a form, None for nothing.
    alike: whether two forms sound alike; without it only equal forms do.
    """
    problems: list[Problem] = []
    for step in checklist.steps:
        texts = step_objections(step, checklist, collides, alike)
        problems += [_problem(checklist, step, text) for text in texts]
    problems += [Problem(checklist.file, 0, 0, text) for text in _list_objections(checklist)]
    return tuple(problems)


def _problem(checklist: Checklist, step: Step, text: str) -> Problem:
    line = step.line
    return Problem(step.file or checklist.file, line, 1 if line else 0, f"step {step.id!r}: {text}")


def _list_objections(checklist: Checklist) -> Iterator[str]:
    if not checklist.steps:
        yield "there is no step in it"
    ids = [s.id for s in checklist.steps]
    for twice in sorted({i for i in ids if ids.count(i) > 1}):
        yield f"step {twice!r} stands twice"
    for loop in _loops(checklist):
        yield "steps wait for each other: " + ", ".join(loop)
    for section in sections(checklist.steps):
        yield from _section_objections(section)
    for text in (checklist.opening, checklist.closing):
        if prompt_word_count(text) > MOST_PROMPT_WORDS:
            yield f"{prompt_word_count(text)} words, {MOST_PROMPT_WORDS} at most: {text!r}"
    if checklist.phase is None and not checklist.symptom and not checklist.base:
        yield "neither a phase nor a symptom: nothing leads to this list"


def sections(steps: Sequence[Step]) -> Iterator[tuple[Step, ...]]:
    """The steps between pauses."""
    section: list[Step] = []
    for step in steps:
        section.append(step)
        if step.pause:
            yield tuple(section)
            section = []
    if section:
        yield tuple(section)


def _section_objections(section: tuple[Step, ...]) -> Iterator[str]:
    first = section[0].id
    # Steps that exclude one another by an option count once.
    length = max(
        sum(1 for s in section if all(_met(o, chosen) for o in s.when))
        for chosen in _option_sets(section)
    )
    if length > SECTION_STEPS:
        yield f"{length} steps from {first!r} without a pause, {SECTION_STEPS} at most"
    places = [i for i, s in enumerate(section) if s.killer]
    if places and places[0] >= max(1, -(-len(section) // 3)):
        yield f"the killer {section[places[0]].id!r} stands after the first third from {first!r}"


def _met(option: str, chosen: frozenset[str]) -> bool:
    return (option.removeprefix("not ") in chosen) != option.startswith("not ")


def _option_sets(section: Iterable[Step]) -> Iterator[frozenset[str]]:
    """Every choice of the options that a section asks about."""
    names = sorted({o.removeprefix("not ") for s in section for o in s.when})
    for bits in range(2 ** len(names)):
        yield frozenset(n for i, n in enumerate(names) if bits >> i & 1)


def _loops(checklist: Checklist) -> Iterator[tuple[str, ...]]:
    """Steps that can never be asked, because they wait for one another."""
    waits = {s.id: {a for a in s.after if a in checklist.ids} for s in checklist.steps}
    while free := {i for i, needs in waits.items() if not needs}:
        waits = {i: needs - free for i, needs in waits.items() if i not in free}
    if waits:
        yield tuple(waits)


def engine_objections(checklist: Checklist, engine: Engine) -> tuple[Problem, ...]:
    """What is impossible on this engine: a step that is never due, limits that no value meets."""
    problems = []
    for step in for_engine(checklist, options(engine)).steps:
        if step.due is not None and level(step.due, engine) > engine.valve_lifts_gauge_pa:
            problems.append(_problem(checklist, step, "never due: the valve lifts before"))
        limits = step.limits
        if limits is None:
            continue
        low = level(limits.at_least, engine) if limits.at_least else 0.0
        high = level(limits.at_most, engine) if limits.at_most else float("inf")
        top = engine.dial_top_gauge_pa if step.asks == "pressure" else 1.0
        if low > high:
            problems.append(_problem(checklist, step, "no value lies within its limits"))
        if low > top or (limits.at_most and high > top * (1 + 1e-9)):
            problems.append(
                _problem(checklist, step, f"a limit lies outside the {step.asks} gauge")
            )
    return tuple(problems)


def chain_objections(lists: Iterable[Checklist]) -> tuple[Problem, ...]:
    """Every objection to the phases together: one list each, water asked again at each gate."""
    by_phase = {c.phase: c for c in lists if c.phase is not None}
    problems = [
        Problem("", 0, 0, f"no checklist for the phase {p.value!r}: it is dead")
        for p in Phase
        if p not in by_phase
    ]
    order = [by_phase[p] for p in Phase if p in by_phase]
    for here, after in pairwise(order):
        water = [s for s in here.steps if s.killer and s.asks == "water"]
        asked_next = any(s.killer and s.asks == "water" for s in after.steps[:1])
        asked_last = any(s is here.steps[-1] or s.again for s in water)
        if water and not asked_next and not asked_last:
            text = "the water is not asked again at the gate (again, or last, or first in the next)"
            problems.append(_problem(here, water[-1], text))
    return tuple(problems)


def emergency_objections(emergencies: Emergencies) -> tuple[Problem, ...]:
    """Every objection to an emergency file."""
    problems = []
    names = [e.name for e in emergencies.entries]
    for e in emergencies.entries:
        texts = [f"no acts for {e.name!r}"] if not e.acts else []
        if len(e.acts) > EMERGENCY_ACTS:
            texts.append(f"{len(e.acts)} acts for {e.name!r}, {EMERGENCY_ACTS} at most from memory")
        texts += [
            f"{prompt_word_count(act)} words, {MOST_PROMPT_WORDS} at most: {act!r}"
            for act in e.acts
            if prompt_word_count(act) > MOST_PROMPT_WORDS
        ]
        if not e.source.strip():
            texts.append(f"no source for {e.name!r}")
        if names.count(e.name) > 1:
            texts.append(f"emergency {e.name!r} stands twice")
        problems += [Problem(emergencies.file, e.line, 1 if e.line else 0, text) for text in texts]
    if "instructions" not in emergencies.ending or "competent person" not in emergencies.ending:
        text = "the ending must name the engine's own instructions and a competent person"
        problems.append(Problem(emergencies.file, 0, 0, text))
    return tuple(problems)
