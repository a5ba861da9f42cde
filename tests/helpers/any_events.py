"""Any event at all, for properties of sessions."""

from __future__ import annotations

from hypothesis import strategies as st

from assistant.dialogue.session import Session
from assistant.messages import (
    DeviceBack,
    DeviceLost,
    Event,
    Heard,
    Resumed,
    SpeechBegan,
    Spoke,
    StopAsked,
    Tick,
)
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


def event_of(session: Session, at: float, kind: str, words: str) -> Event:
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
