"""Any sequence of events: no fault, the same effects again, and no hold passed by noise."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from session_story import parts

from assistant.dialogue.session import Session
from assistant.messages import (
    DeviceBack,
    DeviceLost,
    Fault,
    Heard,
    Resumed,
    SpeechBegan,
    Spoke,
    Started,
    StopAsked,
    Tick,
)
from assistant.procedure.checklist import Phase
from assistant.recogniser.typed_recogniser import hear_typed

WORDS = (
    "pressure seventy five", "pressure zero", "pressure one twenty", "water half",
    "water one eighth", "no water in sight", "correct", "wrong", "wrong sixty five",
    "ready", "not yet", "skip",
    "go back", "why", "how long", "how long to sixty pounds", "where are we", "say again",
    "what next", "fire lit", "coal on", "blower half open", "damper shut", "feed is on",
    "regulator shut", "gear is out", "what if i put in two litres", "when will she lift",
    "how much have i used", "wait five minutes", "undo that", "tank half", "five bar",
    "pressure seventy five water half", "open items", "understood", "pump trouble", "gibberish",
    "is the water rising by itself", "end session", "steam escaping", "full", "nothing",
)  # fmt: skip

events = st.one_of(
    st.tuples(st.just("say"), st.sampled_from(WORDS)),
    st.tuples(st.just("tick"), st.just("")),
    st.tuples(st.just("began"), st.just("")),
    st.tuples(st.just("spoke"), st.just("")),
    st.tuples(st.just("lost"), st.just("")),
    st.tuples(st.just("back"), st.just("")),
    st.tuples(st.just("noise"), st.just("")),
    st.tuples(st.just("resumed"), st.just("")),
    st.tuples(st.just("stop"), st.just("")),
)
stories = st.lists(st.tuples(st.floats(0, 900), events), min_size=1, max_size=25)


def event_of(session: Session, at: float, kind: str, words: str):
    return {
        "say": lambda: hear_typed(words, session.expected, at),
        "tick": lambda: Tick(at),
        "began": lambda: SpeechBegan(at),
        "spoke": lambda: Spoke(at, "something"),
        "lost": lambda: DeviceLost(at, "microphone", "unplugged"),
        "back": lambda: DeviceBack(at, "microphone"),
        "noise": lambda: Heard(at, "test", (), -9.0, -4.0),
        "resumed": lambda: Resumed(at, 300.0),
        "stop": lambda: StopAsked(at),
    }[kind]()


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    stories,
    st.sampled_from([None, *(p.value for p in Phase)]),
    st.sampled_from(["practice", "copper"]),
)
def test_no_fault_and_the_same_again(story, from_phase: str | None, engine: str) -> None:
    first = Session(parts(engine))
    at, played = 0.0, [Started(0.0, from_phase)]
    effects = [first.handle(played[0])]
    for after_s, (kind, words) in story:
        at += after_s
        played.append(event_of(first, at, kind, words))
        effects.append(first.handle(played[-1]))
    faults = [e.message for came in effects for e in came if isinstance(e, Fault)]
    assert not faults
    again = Session(parts(engine))
    assert [again.handle(event) for event in played] == effects
