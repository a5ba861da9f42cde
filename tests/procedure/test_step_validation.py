"""Validation of one step: each kind of mistake is found, at its line."""

from __future__ import annotations

from dataclasses import replace

import pytest

from assistant.grammar.phonetics import alike
from assistant.procedure.checklist import Bound, Checklist, Limits, Phase, Reply, Step
from assistant.procedure.step_validation import act_count, prompt_word_count
from assistant.procedure.validation import (
    objections,
)

GOOD = Step(
    id="pan", say="Clear the ash pan.", asks="ash pan", kind="act", why="Air.", line=7,
    replies=(Reply("clean", ("ash pan clean",)),), source="common practice, no source",
)  # fmt: skip


VALUE = Step(
    id="water", say="Where is it?", asks="water", kind="value", why="Plates.", killer=True,
    limits=Limits(Bound("lower mark"), None, "Low.", ""), line=9,
)  # fmt: skip


def answered(*replies: Reply) -> Step:
    return replace(GOOD, replies=replies)


def limited(at_least: Bound, too_low: str) -> Step:
    return replace(VALUE, limits=Limits(at_least, None, too_low, ""))


def found(*steps: Step) -> list[str]:
    listed = Checklist(name="a", title="A", phase=Phase.FIRING, steps=steps, file="a.yaml")
    return [str(p) for p in objections(listed, alike=alike)]


@pytest.mark.parametrize(
    ("step", "said"),
    [
        (replace(GOOD, say="word " * 13), "13 words"),
        (replace(GOOD, caution="word " * 13), "13 words"),
        (replace(GOOD, say="Open the pan, rake it, shut it."), "3 acts"),
        (replace(GOOD, source=" "), "no source"),
        (replace(GOOD, why=""), "no reason"),
        (replace(GOOD, replies=()), "needs answers"),
        (replace(GOOD, killer=True), "kind cannot be 'act'"),
        (replace(GOOD, replies=(Reply("clean", ("pan 2 clean",)),)), "cannot be spoken"),
        (replace(GOOD, replies=(Reply("clean", ("clean",)),)), "one word"),
        (replace(GOOD, replies=(Reply("clean", ()),)), "no spoken form"),
        (answered(Reply("a", ("pump is on",)), Reply("b", ("pump is off",))), "sound alike"),
        (replace(GOOD, replies=(Reply("a", ("no good",), False, "Stop."),)), "no answer passes"),
        (answered(Reply("a", ("ash out",)), Reply("b", ("not me",), False)), "nothing is said"),
        (replace(GOOD, after=("nowhere",)), "no step 'nowhere'"),
        (replace(GOOD, when=("rocket",)), "no option 'rocket'"),
        (replace(GOOD, after=("pan",)), "wait for each other: pan"),
        (replace(GOOD, due=Bound("upper mark")), "no pressure"),
        (replace(VALUE, limits=None), "needs at_least or at_most"),
        (limited(Bound("valve lifts"), "Low."), "no figure for 'water'"),
        (limited(Bound(value=1.5), "Low."), "outside the gauge"),
        (limited(Bound("lower mark"), ""), "too low"),
        (replace(VALUE, asks="colour"), "no value is spoken"),
    ],
)  # fmt: skip
def test_each_mistake_is_found_at_its_line(step: Step, said: str) -> None:
    problems = found(step)
    assert any(said in p for p in problems), problems
    assert any(p.startswith(f"a.yaml:{step.line}:1:") or "wait" in p for p in problems)


def test_counting() -> None:
    assert prompt_word_count("Blow-down shut, one o'clock.") == 4
    assert act_count("Drain the glass, shut the drain. How does water return?") == 2
    assert act_count("Where is the water?") == 0
