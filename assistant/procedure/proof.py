"""What can be proved of a checklist before anything starts. Values in, problems out; reads no file.

Limits: human-factors practice (nine items before a pause, twelve words and two acts a prompt, the
killer in the first third, answers by state or value); common practice where no source is given.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import pairwise

from assistant.errors import Problem
from assistant.messages import Report
from assistant.procedure.checklist import FIGURES, Checklist, Phase, Step
from assistant.procedure.emergency import Emergencies

PROMPT_WORDS = 12
PROMPT_ACTS = 2
SECTION_STEPS = 9
EMERGENCY_ACTS = 3
VALUES = ("pressure", "water", "tank")

# What is wrong with a spoken form that shall mean a report, None when nothing is.
Collides = Callable[[str, Report], str | None]

OPTIONS = frozenset(
    {
        "hand pump", "injector", "geared pump", "mechanical lubricator", "chimney extension",
        "grease", "lever valve", "pump", "tank", "standing feed",
    }
)  # fmt: skip


def objections(checklist: Checklist, collides: Collides | None = None) -> tuple[Problem, ...]:
    """Everything that is wrong with a list, in the order of its steps."""
    found: list[Problem] = []
    for step in checklist.steps:
        found += [_problem(checklist, step, text) for text in _of_step(step, checklist, collides)]
    found += [Problem(checklist.file, 0, 0, text) for text in _of_list(checklist)]
    return tuple(found)


def _problem(checklist: Checklist, step: Step, text: str) -> Problem:
    line = step.line
    return Problem(step.file or checklist.file, line, 1 if line else 0, f"step {step.id!r}: {text}")


def words(text: str) -> int:
    """How many words are said."""
    return len(re.findall(r"[A-Za-z0-9']+(?:-[A-Za-z0-9']+)*", text))


def acts(text: str) -> int:
    """How many things a prompt asks to be done: its clauses that are no question.

    >>> acts("Glass cocks open, glass drain shut. Where is the water?")
    2
    """
    clauses = re.findall(r"[^.,:;!?]+[.,:;!?]?", text)
    return sum(1 for c in clauses if c.strip() and not c.endswith("?"))


def _of_step(step: Step, checklist: Checklist, collides: Collides | None) -> Iterator[str]:
    yield from _prompts(step)
    yield from _answers(step)
    yield from _limits(step)
    yield from _references(step, checklist)
    if collides is not None:
        for form, report in step.answers():
            if clash := collides(form, report):
                yield clash
    if not step.source.strip():
        yield "no source (say 'common practice, no source' where there is none)"
    if not step.why.strip():
        yield "no reason for 'why?'"


def _prompts(step: Step) -> Iterator[str]:
    limits = step.limits
    said = [step.say, step.again, step.caution, step.remark, *(r.then for r in step.replies)]
    said += [limits.too_low, limits.too_high] if limits else []
    for text in said:
        if words(text) > PROMPT_WORDS:
            yield f"{words(text)} words, {PROMPT_WORDS} at most: {text!r}"
    for text in (step.say, step.again):
        if acts(text) > PROMPT_ACTS:
            yield f"asks for {acts(text)} acts at once, {PROMPT_ACTS} at most: {text!r}"


def _answers(step: Step) -> Iterator[str]:
    if step.kind != "value" and not step.replies:
        yield f"a step of kind {step.kind!r} needs answers"
    if step.killer and step.kind == "act":
        yield "a killer is answered by a state or a value, so its kind cannot be 'act'"
    if step.kind != "value" and not any(r.passes for r in step.replies):
        yield "no answer passes it"
    if step.kind == "value" and step.asks not in VALUES:
        yield f"no value is spoken for {step.asks!r} (only for {', '.join(VALUES)})"
    forms = [form for reply in step.replies for form in reply.spoken]
    for reply in step.replies:
        if not reply.spoken:
            yield f"answer {reply.state!r} has no spoken form"
        if not reply.passes and not reply.then:
            yield f"answer {reply.state!r} does not pass, and nothing is said then"
    for form in forms:
        if not re.fullmatch(r"[a-z']+( [a-z']+)*", form):
            yield f"answer {form!r} cannot be spoken (lower case words only, no figures)"
        elif len(form.split()) < 2:
            yield f"answer {form!r} is one word; an ear needs two"
    yield from _alike(step)


def _alike(step: Step) -> Iterator[str]:
    """Forms of different replies that an ear may take for one another."""
    pairs = [(r.state, form) for r in step.replies for form in r.spoken]
    for i, (state, form) in enumerate(pairs):
        for other_state, other in pairs[i + 1 :]:
            if state != other_state and distance(form, other) < 2:
                yield f"answers {form!r} and {other!r} sound alike but differ in meaning"
            elif form == other:
                yield f"answer {form!r} stands twice"


# Spellings that sound the same or nearly so, after which letters are a rough stand-in for sounds.
SOUNDS = (("ph", "f"), ("ck", "k"), ("c", "k"), ("wh", "w"), ("kn", "n"), ("gh", ""), ("ee", "i"),
          ("ea", "i"), ("oo", "u"), ("y", "i"), ("z", "s"), ("x", "ks"))  # fmt: skip


def distance(one: str, other: str) -> int:
    """How many sounds two forms are apart, roughly, by spelling.

    >>> distance("it is shut", "it is shot"), distance("still air", "real steam") > 3
    (1, True)
    """
    a, b = _sounds(one), _sounds(other)
    row = list(range(len(b) + 1))
    for i, x in enumerate(a, 1):
        last, row[0] = row[0], i
        for j, y in enumerate(b, 1):
            last, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, last + (x != y))
    return row[-1]


def _sounds(text: str) -> str:
    for spelt, sound in SOUNDS:
        text = text.replace(spelt, sound)
    return re.sub(r"(.)\1+", r"\1", text.replace(" ", ""))


def _limits(step: Step) -> Iterator[str]:
    if step.due is not None and not _is_pressure(step.due.figure):
        yield f"due at {step.due.figure!r}, which is no pressure"
    limits = step.limits
    if limits is None:
        if step.kind == "value" and step.must:
            yield "a killer or a hold with a value needs at_least or at_most"
        return
    if step.kind != "value":
        yield "only a step of kind 'value' has limits"
    for bound, said, name in (
        (limits.at_least, limits.too_low, "too_low"),
        (limits.at_most, limits.too_high, "too_high"),
    ):
        if bound is not None and not said:
            yield f"nothing is said when the value is {name.replace('_', ' ')} ({name})"
        if bound is None:
            continue
        if bound.figure and FIGURES.get(bound.figure) != step.asks:
            yield f"{bound.figure!r} is no figure for {step.asks!r}"
        if not bound.figure and step.asks in ("water", "tank") and not 0 <= bound.value <= 1:
            yield f"{bound.value:g} lies outside the gauge (0 to 1)"


def _is_pressure(figure: str) -> bool:
    return not figure or FIGURES.get(figure) == "pressure"


def _references(step: Step, checklist: Checklist) -> Iterator[str]:
    for needed in (*step.after, *([step.put_after] if step.put_after else [])):
        if needed not in checklist.ids:
            yield f"there is no step {needed!r}"
    for option in step.when:
        if option.removeprefix("not ") not in OPTIONS:
            yield f"there is no option {option!r}"


def _of_list(checklist: Checklist) -> Iterator[str]:
    if not checklist.steps:
        yield "there is no step in it"
    ids = [s.id for s in checklist.steps]
    for twice in sorted({i for i in ids if ids.count(i) > 1}):
        yield f"step {twice!r} stands twice"
    for loop in _loops(checklist):
        yield "steps wait for each other: " + ", ".join(loop)
    for section in sections(checklist.steps):
        yield from _of_section(section)
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


def _of_section(section: tuple[Step, ...]) -> Iterator[str]:
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
    """Steps that can never come up, because they wait for one another."""
    waits = {s.id: {a for a in s.after if a in checklist.ids} for s in checklist.steps}
    while free := {i for i, needs in waits.items() if not needs}:
        waits = {i: needs - free for i, needs in waits.items() if i not in free}
    if waits:
        yield tuple(waits)


def chain_objections(lists: Iterable[Checklist]) -> tuple[Problem, ...]:
    """What is wrong with the phases taken together: one list each, killers come back at a gate."""
    by_phase = {c.phase: c for c in lists if c.phase is not None}
    found = [
        Problem("", 0, 0, f"no checklist for the phase {p.value!r}: it is dead")
        for p in Phase
        if p not in by_phase
    ]
    order = [by_phase[p] for p in Phase if p in by_phase]
    for here, after in pairwise(order):
        water = [s for s in here.steps if s.killer and s.asks == "water"]
        asked_next = any(s.killer and s.asks == "water" for s in after.steps[:1])
        if water and not asked_next and not any(s.again for s in water):
            text = "the water is not asked again at the gate (again, or first in the next phase)"
            found.append(_problem(here, water[-1], text))
    return tuple(found)


def emergency_objections(emergencies: Emergencies) -> tuple[Problem, ...]:
    """Everything that is wrong with an emergency file."""
    found = []
    names = [e.name for e in emergencies.entries]
    for e in emergencies.entries:
        said = [f"no acts for {e.name!r}"] if not e.acts else []
        if len(e.acts) > EMERGENCY_ACTS:
            said.append(f"{len(e.acts)} acts for {e.name!r}, {EMERGENCY_ACTS} at most from memory")
        said += [
            f"{words(act)} words, {PROMPT_WORDS} at most: {act!r}"
            for act in e.acts
            if words(act) > PROMPT_WORDS
        ]
        if not e.source.strip():
            said.append(f"no source for {e.name!r}")
        if names.count(e.name) > 1:
            said.append(f"emergency {e.name!r} stands twice")
        found += [Problem(emergencies.file, e.line, 1 if e.line else 0, text) for text in said]
    if "instructions" not in emergencies.ending or "competent person" not in emergencies.ending:
        text = "the ending must name the engine's own instructions and a competent person"
        found.append(Problem(emergencies.file, 0, 0, text))
    return tuple(found)
