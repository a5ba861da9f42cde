"""What is open and how loud: the tables, and that no event changes either but by them."""

from __future__ import annotations

import pytest
from any_events import event_of, events
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from session_story import Story, in_steam, parts

from assistant.dialogue import conversation
from assistant.dialogue.conversation import Facts, Loud, Open, event_between, next_loud, next_open
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.session import Session
from assistant.dialogue.what_is_open import open_now, question_stands
from assistant.messages import Alternative, Event, Heard, Order, Report, Resumed, Started, Tick
from assistant.procedure.machine import IllegalMoveError

SIXTY, FIFTEEN, FIFTY = (Report("pressure", float(v), "psi") for v in (60, 15, 50))


def context_of(session: Session) -> EventContext:
    return EventContext(parts(), session.state, Tick(session.state.at))


def opened(story: Story) -> Open:
    return open_now(context_of(story.session))


def facts_of(session: Session, event: Event) -> Facts:
    over = session.state.clock.over
    return Facts(
        heard=isinstance(event, Heard),
        asked=question_stands(context_of(session)),
        broken_off=over or isinstance(event, Resumed),
    )


def follow(session: Session, event: Event) -> None:
    """Handle an event, and see that both tables have what it changed."""
    before = open_now(context_of(session)), conversation.loud_now(context_of(session))
    session.handle(event)
    after = open_now(context_of(session)), conversation.loud_now(context_of(session))
    facts = facts_of(session, event)
    if before[0] is not after[0]:
        name = event_between(before[0], after[0], facts)
        assert next_open(before[0], name, facts) is after[0], event
    if before[1] is not after[1]:
        name = "be_quiet" if after[1] is Loud.QUIET else "speak_again"
        assert next_loud(before[1], name, facts) is after[1], event


def doubtful(session: Session, at: float, which: bool) -> Heard:
    """Two pressures that are near, or one that is badly heard."""
    shares = (0.6, 0.4) if which else (0.9, 0.01)
    values = (FIFTEEN, FIFTY)
    found = tuple(Alternative(m, "one five", p) for m, p in zip(values, shares, strict=True))
    return Heard(at, "test", found, log_ratio=3.0, average=-0.1, audio_s=2.0)


MORE = st.sampled_from(
    [("say", "take a note"), ("say", "stop"), ("say", "end session"), ("say", "wrong"),
     ("say", "correct"), ("doubt", "one"), ("doubt", "two"), ("say", "pressure sixty")]
)  # fmt: skip


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.lists(st.tuples(st.floats(0, 200), st.one_of(events, MORE)), min_size=1, max_size=25),
    st.sampled_from([None, "raising steam", "standing by"]),
)
def test_no_event_changes_what_is_open_or_how_loud_but_by_the_tables(
    story: list[tuple[float, tuple[str, str]]], from_phase: str | None
) -> None:
    session = Session(parts())
    follow(session, Started(0.0, from_phase))
    at = 0.0
    for after_s, (kind, words) in story:
        at += after_s
        if kind == "doubt":
            follow(session, doubtful(session, at, words == "two"))
        else:
            follow(session, event_of(session, at, kind, words))


def test_each_state_is_reached() -> None:
    story = in_steam()
    assert opened(story) is Open.QUESTION
    story.sound((SIXTY, 0.9))
    assert opened(story) is Open.CONFIRMATION
    story.event(doubtful(story.session, story.at + 1.0, which=True))
    assert opened(story) is Open.WHICH
    story.say("take a note")
    assert opened(story) is Open.NOTE
    story.say("the plug weeps")
    assert opened(story) is Open.QUESTION
    story.sound((Order("stop"), 0.9))
    assert opened(story) is Open.END_ASKED


def test_before_the_start_nothing_is_open() -> None:
    assert open_now(context_of(Session(parts()))) is Open.NOTHING


@pytest.mark.parametrize("source", list(Open))
@pytest.mark.parametrize("name", ["read_back", "ask_which", "ask_the_end", "begin_note"])
def test_silence_opens_no_confirmation_no_note_and_no_end(source: Open, name: str) -> None:
    with pytest.raises(IllegalMoveError):
        next_open(source, name, Facts(heard=False, asked=True, broken_off=True))


def test_a_note_is_waited_for_however_long_and_a_quiet_is_asked_for() -> None:
    for facts in (Facts(), Facts(asked=True)):
        with pytest.raises(IllegalMoveError):
            next_open(Open.NOTE, "take_note", facts)
    assert next_open(Open.NOTE, "take_note", Facts(heard=True)) is Open.NOTHING
    assert next_open(Open.NOTE, "break_off", Facts(asked=True, broken_off=True)) is Open.QUESTION
    with pytest.raises(IllegalMoveError):
        next_loud(Loud.NORMAL, "be_quiet", Facts())
    assert next_loud(Loud.QUIET, "speak_again", Facts()) is Loud.NORMAL


@pytest.mark.parametrize("source", [Open.CONFIRMATION, Open.WHICH, Open.END_ASKED])
def test_what_lapses_gives_the_floor_to_the_question_beneath(source: Open) -> None:
    assert next_open(source, "close", Facts(asked=True)) is Open.QUESTION
    assert next_open(source, "close", Facts()) is Open.NOTHING


def test_a_quiet_that_was_asked_for() -> None:
    story = in_steam()
    assert conversation.loud_now(context_of(story.session)) is Loud.NORMAL
    story.say("wait five minutes")
    assert conversation.loud_now(context_of(story.session)) is Loud.QUIET
    story.wait(310)
    assert conversation.loud_now(context_of(story.session)) is Loud.NORMAL
