"""Interruptions at random places and nonsense without end: nothing is lost, no hold is passed."""

from __future__ import annotations

import random

from session_story import Story, in_steam, parts

from assistant.dialogue.session import Session
from assistant.messages import Heard, PhaseDone, Resumed, Say, StepAsked, StepDone

WALK = ("water half", "tank full", "pressure zero")
NONSENSE = ("la la la", "seventeen green bottles", "ready", "yes", "correct", "skip", "carry on")


def answer(story: Story) -> None:
    """The right answer to the step in hand."""
    hand = story.session.state.progress
    step = next((s for s in hand.steps if s.id == hand.asked), None)
    if step is None or story.session.state.reading_asked:
        story.say("water half")
    elif step.kind == "value":
        said = {"water": "water half", "tank": "tank full"}
        story.say(said.get(step.asks, "pressure zero"))
    else:
        story.say(next(r for r in step.replies if r.passes).spoken[0])


def interrupted(seed: int) -> None:
    """Some way into a cold steam-up, then an interruption; what was done stays done."""
    luck = random.Random(seed)
    story = Story()
    for _ in range(luck.randrange(1, 18)):
        answer(story)
    state = story.session.state
    done = {d.step for d in state.progress.done}
    asked = state.progress.asked
    kind = ("alarm", "away", "killed")[seed % 3]
    if kind == "alarm":
        story.say("steam escaping")
        story.say("danger is over")
        story.wait(5)
    elif kind == "away":
        story.wait(300, tick_s=30)
    else:
        fresh = Session(parts())
        for event in story.events:
            fresh.handle(event)
        same = (fresh.state.progress, fresh.state.reports)
        assert same == (state.progress, state.reports)
        story.session = fresh
        story.at += 300
        story.event(Resumed(story.at, 300.0))
        told = " ".join(e.text for e in story.effects if isinstance(e, Say))
        assert "Where is the water?" in told, told
    now = story.session.state.progress
    assert done <= {d.step for d in now.done}, "no step lost"
    if asked is not None and asked not in done:
        assert now.asked == asked, "the step in hand is still in hand"
    again = []
    for _ in range(4):
        answer(story)
        again += [e.step for e in story.got(StepAsked)]
    assert not done & set(again), "nothing confirmed is asked again"


def test_two_hundred_interruptions_lose_nothing() -> None:
    for seed in range(200):
        interrupted(seed)


def test_a_thousand_noises_and_nonsenses_pass_no_hold() -> None:
    luck = random.Random(7)
    for story in (Story(), in_steam()):
        done = story.session.state.progress.done
        for _ in range(500):
            if luck.random() < 0.5:
                story.at += 1
                story.event(Heard(story.at, "test", (), -9.0, -4.0))
            else:
                story.say(luck.choice(NONSENSE), after_s=1)
            musts = {s.id for s in story.session.state.progress.steps if s.must}
            assert not story.got(PhaseDone)
            assert not [d for d in story.got(StepDone) if d.step in musts]
        assert done == story.session.state.progress.done[: len(done)]
