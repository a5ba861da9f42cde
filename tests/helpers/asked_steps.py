"""A session with any step of any shipped list in hand."""

from __future__ import annotations

from dataclasses import replace

from session_story import Story, parts

from assistant.dialogue.state import STEP, Asked
from assistant.procedure import position
from assistant.procedure import progress as steps
from assistant.procedure.checklist import Checklist

LISTS = [*parts().lists, *parts().remedies]


def in_hand(checklist: Checklist, step_id: str) -> Story:
    """A session with this very step in hand, whatever it waits for done."""
    story = Story()
    story.wait(1)
    state = story.session.state
    progress = steps.start_list(checklist, parts().engine, 0.0)
    step = progress.step(step_id)
    ready = replace(step, after=(), due=None, near_boiling=False)
    progress = position.put_step(replace(progress, steps=(ready,)), ready)
    parked = (state.progress,) if checklist.phase is None else ()
    phase = checklist.phase or state.phase
    work = replace(state.procedure, progress=progress, parked=parked, phase=phase)
    asked = {STEP + step_id: Asked(step_id, story.at, story.at, 1)}
    story.session.state = replace(state, procedure=work, asked=asked)
    story.wait(1)  # so that it is listened for
    return story
