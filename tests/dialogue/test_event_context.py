"""One event being handled: deadlines, faults, what is kept for "say again"."""

from __future__ import annotations

import math

import pytest
from session_story import Story, in_steam, parts

from assistant.belief import water_forecast
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import clock, hearing, questions
from assistant.messages import AlarmChanged, Ended, Fault, Hush, Say, Tick, Urgency


def test_a_sum_that_fails_is_told_once_and_the_alarms_go_on(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    story = in_steam()

    def broken(belief: object) -> float:
        raise RuntimeError("invented")

    monkeypatch.setattr(water_forecast, "water_middle", broken)
    effects = story.say("pressure sixty five")
    assert [e.message for e in effects if isinstance(e, Fault)] == ["RuntimeError: invented"]
    assert "Assistant fault. Trust the gauges." in story.said()
    story.wait(60, tick_s=1.0)
    assert not story.got(Fault)
    story.say("no water in sight")
    assert "water out of sight" in [change.name for change in story.got(AlarmChanged)]


def context_at(story: Story, at: float) -> EventContext:
    context = EventContext(parts(), story.session.state, Tick(at))
    clock.begin(context, at)
    context.mark_begun()
    return context


def test_the_earliest_time_that_was_asked_about_is_the_next_deadline() -> None:
    context = context_at(in_steam(), 100.0)
    assert context.elapsed(40.0, 60.0) and context.next_deadline == math.inf
    assert not context.elapsed(100.0, 60.0)
    assert not context.elapsed(90.0, 30.0)
    assert not context.elapsed(100.0, 600.0)
    assert context.next_deadline == 120.0


def test_the_same_values_leave_the_same_state() -> None:
    context = context_at(in_steam(), 100.0)
    assert context.unchanged
    hearing.understood(context)
    questions.close_doubt(context)
    assert context.unchanged
    hearing.missed(context)
    assert not context.unchanged


def test_effects_come_out_records_first_then_alarms_then_words() -> None:
    context = context_at(in_steam(), 100.0)
    context.say("Later.")
    context.say("")
    context.alarm(Hush())
    context.record(Ended("invented"))
    assert context.effects() == [Ended("invented"), Hush(), Say("Later.")]


def test_say_again_repeats_prompts_and_answers_but_no_hint_or_alarm() -> None:
    context = context_at(in_steam(), 100.0)
    for text, urgency in (
        ("Hint.", Urgency.CHAT),
        ("Prompt.", Urgency.PROMPT),
        ("Answer.", Urgency.ANSWER),
        ("Alarm.", Urgency.ALARM),
    ):
        context.say(text, urgency)
    assert context.remembered == "Prompt. Answer."


def test_work_that_fails_gives_none_and_every_fault_is_recorded_but_told_once() -> None:
    context = context_at(in_steam(), 100.0)
    assert context.or_none(lambda: 3) == 3
    for _ in range(2):
        assert context.or_none(lambda: 1 // 0) is None
    assert [type(record) for record in context.records] == [Fault, Fault]
    assert [e.text for e in context.effects() if isinstance(e, Say)] == [
        "Assistant fault. Trust the gauges."
    ]
