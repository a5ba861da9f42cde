"""Validation of one step: its words, its answers, its limits, what it refers to.

Limits: human-factors practice (twelve words and two acts a prompt, answers by state or value).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from assistant.messages import Report
from assistant.procedure.checklist import FIGURES, OPTIONS, Checklist, Step
from assistant.procedure.conditions import PROOFS, WHILE

MOST_PROMPT_WORDS = 12
PROMPT_ACTS = 2
_VALUES = ("pressure", "water", "tank")

# What is wrong with a spoken form that is to mean a report; None when nothing is.
Collides = Callable[[str, Report], str | None]
# Whether a recogniser may confuse two forms.
Alike = Callable[[str, str], bool]


def prompt_word_count(text: str) -> int:
    """How many spoken words a text has."""
    return len(re.findall(r"[A-Za-z0-9']+(?:-[A-Za-z0-9']+)*", text))


def act_count(text: str) -> int:
    """How many acts a prompt asks for: its clauses that are not questions.

    >>> act_count("Glass cocks open, glass drain shut. Where is the water?")
    2
    """
    clauses = re.findall(r"[^.,:;!?]+[.,:;!?]?", text)
    return sum(1 for c in clauses if c.strip() and not c.endswith("?"))


def step_objections(
    step: Step, checklist: Checklist, collides: Collides | None, alike: Alike
) -> Iterator[str]:
    """Every objection to one step of a list, in words."""
    yield from _prompts(step)
    yield from _answers(step)
    yield from _alike(step, alike)
    yield from _limits(step)
    yield from _references(step, checklist)
    yield from _conditions(step)
    if collides is not None:
        for form, report in step.answers():
            if objection := collides(form, report):
                yield objection
    if not step.source.strip():
        yield "no source (say 'common practice, no source' where there is none)"
    if not step.why.strip():
        yield "no reason for 'why?'"


def _prompts(step: Step) -> Iterator[str]:
    limits = step.limits
    texts = [step.say, step.again, step.caution, step.remark, step.no_gain]
    texts += [r.then for r in step.replies]
    texts += [limits.too_low, limits.too_high] if limits else []
    for text in texts:
        if prompt_word_count(text) > MOST_PROMPT_WORDS:
            yield f"{prompt_word_count(text)} words, {MOST_PROMPT_WORDS} at most: {text!r}"
    for text in (step.say, step.again):
        if act_count(text) > PROMPT_ACTS:
            yield f"asks for {act_count(text)} acts at once, {PROMPT_ACTS} at most: {text!r}"


def _answers(step: Step) -> Iterator[str]:
    if step.kind != "value" and not step.replies:
        yield f"a step of kind {step.kind!r} needs answers"
    if step.killer and step.kind == "act":
        yield "a killer is answered by a state or a value, so its kind cannot be 'act'"
    if step.kind != "value" and not any(r.passes for r in step.replies):
        yield "no answer passes it"
    if step.kind == "value" and step.asks not in _VALUES:
        yield f"no value is spoken for {step.asks!r} (only for {', '.join(_VALUES)})"
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


def _alike(step: Step, alike: Alike) -> Iterator[str]:
    """Forms of different replies that a recogniser may confuse."""
    pairs = [(r.state, form) for r in step.replies for form in r.spoken]
    for i, (state, form) in enumerate(pairs):
        for other_state, other in pairs[i + 1 :]:
            if state != other_state and alike(form, other):
                yield f"answers {form!r} and {other!r} sound alike but differ in meaning"
            elif form == other:
                yield f"answer {form!r} stands twice"


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
    for bound, text, name in (
        (limits.at_least, limits.too_low, "too_low"),
        (limits.at_most, limits.too_high, "too_high"),
    ):
        if bound is not None and not text:
            yield f"nothing is said when the value is {name.replace('_', ' ')} ({name})"
        if bound is None:
            continue
        if bound.figure and FIGURES.get(bound.figure) != step.asks:
            yield f"{bound.figure!r} is no figure for {step.asks!r}"
        if not bound.figure and step.asks in ("water", "tank") and not 0 <= bound.value <= 1:
            yield f"{bound.value:g} lies outside the gauge (0 to 1)"


def _is_pressure(figure: str) -> bool:
    return not figure or FIGURES.get(figure) == "pressure"


def _conditions(step: Step) -> Iterator[str]:
    if step.while_ and step.while_ not in WHILE:
        yield f"while {step.while_!r} is none of {', '.join(WHILE)}"
    if step.proves and step.proves not in PROOFS:
        yield f"the picture has no field {step.proves!r}"
    if bool(step.gain_on) != bool(step.no_gain):
        yield "gain_on and no_gain go together"


def _references(step: Step, checklist: Checklist) -> Iterator[str]:
    warm = step.warm if "/" not in step.warm else ""
    for needed in (*step.after, *filter(None, (step.put_after, step.gain_on, warm))):
        if needed not in checklist.ids:
            yield f"there is no step {needed!r}"
    for option in step.when:
        if option.removeprefix("not ") not in OPTIONS:
            yield f"there is no option {option!r}"
