"""handle(event): skipped events, internal errors, the end."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest
from any_events import event_of
from any_events import events as happenings
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from session_story import Counting, Thorough, in_steam, parts

from assistant.commands.session_build import session_config_of
from assistant.dialogue.session import LONGEST_SKIP_S, Session
from assistant.journal import reader
from assistant.lab.benches import journal_day
from assistant.lab.benches.alarm_rates import NoWaiting
from assistant.messages import (
    Effect,
    Ended,
    Event,
    Started,
    StepAsked,
    StopAsked,
    Tick,
)
from assistant.procedure.checklist import Phase
from assistant.simulator import practice
from assistant.simulator.sound_rig import TypedRig

JOURNALS = Path(__file__).parent.parent / "data" / "journals"


def same(quick: Session, thorough: Thorough, events: list[Event]) -> None:
    thorough.state = quick.state  # what is learned of the engine is not compared value by value
    for event in (*events, StopAsked(events[-1].at + 1.0)):
        assert quick.handle(event) == thorough.handle(event), event
    assert quick.state == thorough.state
    assert thorough.handled == len(events) + 1, "it skipped nothing"


def every_second(events: list[Event]) -> list[Event]:
    """With a Tick every second, as a live session has them, instead of those there are."""
    told = [event for event in events if not isinstance(event, Tick)]
    ticks: list[Event] = [Tick(0.3 + 1.0003 * n) for n in range(int(events[-1].at))]
    return sorted((*told, *ticks), key=lambda event: event.at)


@pytest.mark.parametrize("path", sorted(JOURNALS.glob("session_*.jsonl")), ids=lambda p: p.stem)
def test_a_kept_session(path: Path) -> None:
    kept = reader.read(path)
    made_of = session_config_of(reader.require_header(kept))
    events = every_second(list(kept.events()))
    quick = Counting(made_of)
    same(quick, Thorough(made_of), events)
    assert quick.handled < len(events) / 2


def test_steam_raised_second_by_second_with_work_offered_meanwhile() -> None:
    quick, thorough = Session(parts("practice")), Thorough(parts("practice"))
    thorough.state = quick.state
    offered = 0

    def turn(event: Event) -> list[Effect]:
        nonlocal offered
        effects = quick.handle(event)
        assert thorough.handle(event) == effects, event
        offered += StepAsked("raising steam", "oil round again") in effects
        return effects

    for event in journal_day.day_events(quick, turn):
        if event.at > 7300.0 or offered:
            break
    assert offered


@pytest.mark.parametrize(
    ("engine", "seed", "faults"),
    [("practice", 3, ()), ("practice", 4, ("low water",)), ("copper", 5, ("fire dies",))],
)
def test_a_practice(engine: str, seed: int, faults: tuple[str, ...]) -> None:
    thorough, events = Thorough(parts(engine)), []

    def turn(event: Event) -> list[Effect]:
        events.append(event)
        return thorough.handle(event)

    cast = practice.Cast(
        thorough._config.engine, thorough._config.lists, TypedRig(), NoWaiting(), seed, faults
    )
    practice.play(cast, turn, lambda: thorough.expected, lambda at, who, what: None)
    same(Session(parts(engine)), Thorough(parts(engine)), events)
    if not faults:  # once is enough: it is the dearest comparison of all
        same(Session(parts(engine)), Thorough(parts(engine)), every_second(events))


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.lists(st.tuples(st.floats(0, 900), st.integers(0, 40), happenings), min_size=1, max_size=25),
    st.sampled_from([None, *(p.value for p in Phase)]),
    st.sampled_from(["practice", "copper"]),
)
def test_anything(
    story: list[tuple[float, int, tuple[str, str]]], from_phase: str | None, engine: str
) -> None:
    heard = Session(parts(engine))
    at, events = 0.0, [Started(0.0, from_phase)]
    heard.handle(events[0])
    for after_s, ticks, (kind, words) in story:
        came = [Tick(at + after_s * n / (ticks + 1)) for n in range(1, ticks + 1)]
        at += after_s
        for event in came:
            heard.handle(event)
        events += [*came, event_of(heard, at, kind, words)]
        heard.handle(events[-1])
    same(Session(parts(engine)), Thorough(parts(engine)), events)


def test_events_are_not_skipped_for_long() -> None:
    """A part that did not say when it wants to look again costs seconds, no more."""
    session = Counting(parts("practice"))
    session.handle(Started(0.0))
    handled_at = []
    for n in range(600):
        before = session.handled
        session.handle(Tick(float(n)))
        if session.handled > before:
            handled_at.append(float(n))
    assert len(handled_at) < 100
    assert max(later - earlier for earlier, later in pairwise(handled_at)) <= LONGEST_SKIP_S


def test_a_clock_that_goes_back_does_not_undo_the_time_that_was_skipped() -> None:
    quick, thorough = Session(parts("practice")), Thorough(parts("practice"))
    events = [Started(0.0), *(Tick(float(n)) for n in range(1, 16)), Tick(3.0), Tick(2.0)]
    same(quick, thorough, events)


def test_stopping_from_outside_ends_at_once_and_nothing_comes_after() -> None:
    story = in_steam()
    story.event(StopAsked(story.at + 1))
    assert story.got(Ended)
    assert story.say("pressure seventy") == []
