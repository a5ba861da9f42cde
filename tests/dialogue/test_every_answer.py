"""Every answer of every shipped list can be said, and does what the list says it does."""

from __future__ import annotations

import pytest
from asked_steps import LISTS, in_hand
from session_story import parts

from assistant.messages import Fault, ReadingAccepted, ReadingDoubted, ReadingRefused, StepDone
from assistant.procedure import progress as steps
from assistant.procedure.checklist import Checklist


@pytest.mark.parametrize("checklist", LISTS, ids=lambda one: one.name)
def test_every_form_of_every_answer_is_taken_at_once(checklist: Checklist) -> None:
    shown = steps.start_list(checklist, parts().engine, 0.0)
    for step in shown.checklist.steps:
        for reply in step.replies:
            for form in reply.spoken:
                story = in_hand(checklist, step.id)
                story.say(form)
                case = f"{step.id}: {form!r}: {story.said()}"
                assert not story.got(ReadingRefused) and not story.got(ReadingDoubted), case
                assert not story.got(Fault), case
                taken = [a.report for a in story.got(ReadingAccepted)]
                assert [(r.what, r.value) for r in taken] == [(step.asks, reply.state)], case
                done = step.id in {d.step for d in story.got(StepDone)}
                assert done == reply.passes, case
                told = " ".join(story.said())
                assert reply.passes or reply.then in told or "Danger." in told, case
