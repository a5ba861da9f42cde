"""The watch: first causes, suppression, what clears; any story twice gives the same."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from alarm_story import (  # type: ignore[import-not-found]
    Story,  # type: ignore[import-not-found]
)

from assistant.alarms.inputs import TimedValue
from assistant.alarms.rules import BY_NAME
from assistant.alarms.watch import GRAIN_S, acknowledge, look, next_deadline, shelve
from assistant.messages import Grade

STATES = {
    "fire": ("lit", "built", "coal", "banked", "drawn"),
    "damper": ("shut", "crack", "half", "open"),
    "blower": ("shut", "crack", "half", "open"),
    "feed": ("on", "off"),
    "bypass": ("open", "shut"),
    "valve": ("shut", "feathering", "lifting"),
    "vent": ("steam", "air"),
}


def happen(story: Story, chance: random.Random) -> None:
    what = chance.choice(
        ["water", "psi", "tank", "state", "call", "lost", "plan", "believe", "time"]
    )
    if what == "water":
        story.water(chance.choice([0.0, 0.1, 0.25, 0.5, 0.84, 0.9, 1.0, "out of sight"]))
    elif what == "psi":
        story.psi(chance.choice([0.0, 1.0, 30.0, 90.0, 119.0, 121.0, 133.0, 146.0, 160.0, 250.0]))
    elif what == "tank":
        story.tank(chance.random())
    elif what == "state":
        name = chance.choice(sorted(STATES))
        story.state(name, chance.choice(STATES[name]))
    elif what == "call":
        story.call(chance.choice(["steam escaping", "glass broken", "someone hurt", "over"]))
    elif what == "lost":
        lost = {"microphone": TimedValue("no frames", story.at)} if chance.random() < 0.5 else {}
        story.see(
            lost_devices=lost, phase=chance.choice(["raising steam", "pumping", "putting away"])
        )
    elif what == "plan":
        story.see(
            plan_at=chance.choice([None, 5000.0]),
            forecast_at=chance.choice([None, 4000.0, 9000.0]),
            water_cause=chance.choice(["", "loss", "use"]), steam_since=chance.choice([None, 0.0]),
            left_open=chance.choice([(), ("tubes",)]), first_steam_by=chance.choice([None, 3000.0]),
        )  # fmt: skip
    elif what == "believe":
        story.believe(chance.choice([None, 0.1, 0.6]))
    else:
        story.pass_s(chance.choice([5.0, 70.0, 400.0]))
    if chance.random() < 0.2:
        story.watch, _ = acknowledge(story.watch, story.at)
    if chance.random() < 0.1:
        story.watch, _, _ = shelve(story.watch, story.at, "busy")


def told(seed: int) -> Story:
    story, chance = Story(), random.Random(seed)
    for _ in range(150):
        story.at += chance.choice([0.0, 1.0, 30.0])
        happen(story, chance)
        names = [a.name for a in story.watch.alarms]
        assert len(names) == len(set(names)), "an alarm stands once"
    return story


@pytest.mark.parametrize("seed", range(12))
def test_any_story_is_told_the_same_twice_and_breaks_nothing(seed: int) -> None:
    story, again = told(seed), told(seed)
    assert story.watch == again.watch
    assert [(at, c.rule.name, c.state) for at, c in story.changes] == [
        (at, c.rule.name, c.state) for at, c in again.changes
    ]
    assert story.changes
    for _, change in story.changes:
        assert change.state in ("acknowledged", "shelved") or change.reason
        assert change.to_be_told == (change.state in ("raised", "shelf ended"))
        if change.rule.grade is Grade.DANGER:
            assert change.state not in ("suppressed", "shelved", "shelf ended")


@pytest.mark.parametrize("seed", range(12))
def test_an_hour_of_silence_cures_nothing_that_a_gauge_has_to_show(seed: int) -> None:
    story = told(seed)
    before = {a.name for a in story.watch.alarms if a.rule.gauge}
    story.pass_s(3600.0)
    assert before <= {a.name for a in story.watch.alarms}


@pytest.mark.parametrize("seed", range(12))
def test_until_it_says_so_a_look_at_the_same_finds_nothing(seed: int) -> None:
    story, chance = Story(), random.Random(seed)
    still = ended = 0
    for _ in range(150):
        story.at += chance.choice([0.0, 1.0, 30.0])
        happen(story, chance)
        if look(story.watch, story.seen(story.at), story.at) != (story.watch, ()):
            continue
        until = next_deadline(story.watch, story.seen(story.at), story.at)
        assert until > story.at - GRAIN_S
        for _ in range(5):
            at = chance.uniform(story.at, max(min(until, story.at + 4000.0) - GRAIN_S, story.at))
            assert look(story.watch, story.seen(at), at) == (story.watch, ())
            still += 1
        if until < story.at + 4000.0:
            ended += look(story.watch, story.seen(until + 1.0), until + 1.0)[1] != ()
    assert still > 50
    assert ended > 5, "what it waits for does come"


def test_lost_prime_with_the_tank_empty_first(steaming: Story) -> None:
    steaming.at += 30
    assert steaming.tank(0.0) == ["Warning. Tank empty. Fill it now."]
    steaming.watch, _ = acknowledge(steaming.watch, steaming.at)
    steaming.water(0.6)
    steaming.state("feed", "on")
    steaming.at += 180
    assert steaming.water(0.5) == [], "suppressed: it follows from the empty tank"
    assert steaming.suppressed() == ["water falling with feed on"]
    steaming.at += 60
    assert "Danger. Water low. Stop the heat." in steaming.water(0.2), "danger never waits"


def test_what_was_held_back_is_told_when_its_cause_clears(steaming: Story) -> None:
    steaming.tank(0.0)
    steaming.water(0.6)
    steaming.state("feed", "on")
    steaming.at += 120
    steaming.water(0.5)
    steaming.at += 30
    assert steaming.tank(0.8) == ["Warning. Water falling, feed on. Check the feed."]
    assert steaming.names("cleared") == ["tank empty"]


def test_silence_and_the_clock_clear_nothing(steaming: Story) -> None:
    steaming.water(0.2)
    steaming.pass_s(3600)
    alarm = steaming.alarm("low water")
    assert alarm is not None and steaming.names("cleared") == []


def test_a_wrong_reading_taken_back_takes_its_alarm_with_it(steaming: Story) -> None:
    steaming.at += 60
    steaming.water(0.2)
    corrected = (*steaming.inputs.water[:-1], TimedValue(0.7, steaming.at))
    steaming.inputs = replace(steaming.inputs, water=corrected)
    steaming.look(retracted=("water",))
    assert steaming.names("cleared") == ["low water"]
    assert steaming.changes[-1][1].reason == "the reading was taken back"


def test_reasons_are_made_of_the_numbers(steaming: Story) -> None:
    steaming.state("damper", "shut")
    steaming.state("blower", "shut")
    steaming.psi(150)
    (reason,) = [c.reason for _, c in steaming.changes if c.rule.name == "over-pressure"]
    assert "150 psi" in reason and "145 psi" in reason


def test_an_alarm_whose_condition_holds_does_not_end(
    steaming: Story, monkeypatch: pytest.MonkeyPatch
) -> None:
    row = replace(BY_NAME["water falling faster than use"], condition=lambda _, at: "two looks")
    contrary = replace(row, normal=lambda _, at: True)
    monkeypatch.setattr("assistant.alarms.watch.GRAVEST_FIRST", (contrary,))
    monkeypatch.setitem(BY_NAME, row.name, contrary)
    for _ in range(3):
        steaming.pass_s(5.0)
    states = [change.state for _, change in steaming.changes if change.rule.name == row.name]
    assert states == ["raised"]
