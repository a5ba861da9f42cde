"""A danger called in any phase is heard first; every step has its reason, every hold holds."""

from __future__ import annotations

import pytest
from asked_steps import LISTS, in_hand
from session_story import Story, parts

from assistant.messages import (
    AlarmChanged,
    Grade,
    Hush,
    PhaseDone,
    Say,
    StepDone,
    StepSkipped,
    Tone,
    Urgency,
)
from assistant.procedure import progress as steps
from assistant.procedure.checklist import Checklist, Phase

PHASES = [None, *(phase.value for phase in Phase)]
CALLS = (
    "steam escaping", "glass broken", "someone is hurt", "fire outside the firebox",
    "no water in sight",
)  # fmt: skip


@pytest.mark.parametrize("call", CALLS)
@pytest.mark.parametrize("phase", PHASES)
def test_a_danger_cuts_in_with_its_tone_before_any_other_word(phase: str | None, call: str) -> None:
    story = Story("practice", phase)
    if call == "no water in sight":
        story.say("fire is lit")
    story.say(call)
    heard = [e for e in story.effects if isinstance(e, (Hush, Tone, Say))]
    assert isinstance(heard[0], Hush)
    assert heard[1] == Tone(Grade.DANGER)
    said = [e for e in heard if isinstance(e, Say)]
    assert said[0].text.startswith("Danger. ") and said[0].urgency is Urgency.DANGER
    assert len(said[0].text.split()) <= 8
    assert said[1].urgency is Urgency.DANGER
    assert said[1].text.endswith("Then your engine's own instructions. Get a competent person.")
    raised = [e for e in story.effects if isinstance(e, AlarmChanged) and e.state == "raised"]
    assert [e.grade for e in raised] == [Grade.DANGER], "one first cause"


@pytest.mark.parametrize("checklist", LISTS, ids=lambda one: one.name)
def test_every_step_says_why_and_no_hold_is_skipped_or_passed_by_a_word(
    checklist: Checklist,
) -> None:
    for step in steps.start_list(checklist, parts().engine, 0.0).checklist.steps:
        if step.waiting:
            continue  # makes way for any other step
        story = in_hand(checklist, step.id)
        story.say("why")
        assert story.said() and story.said()[0].lower().startswith(step.why.lower()[:20]), step.id
        story.say("skip")
        assert bool(story.got(StepSkipped)) is not step.must, step.id
        if step.must:
            assert story.said()[0].startswith("This one stays: "), step.id
        if step.killer or step.kind != "act":
            story = in_hand(checklist, step.id)
            for words in ("ready", "that's done", "yes", "correct", "carry on"):
                story.say(words)
                assert not story.got(StepDone) and not story.got(PhaseDone), (step.id, words)
