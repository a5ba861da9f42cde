"""An end that nobody spoke is undone by going on: the same live, resumed and replayed."""

from __future__ import annotations

from assistant.commands.replayed_session import ReplayedSession
from assistant.commands.session_build import header_of, session_config_of
from assistant.config.engine_file import find_engine
from assistant.dialogue.session import Session
from assistant.messages import Ended, Resumed, Say, Started, StopAsked, Tick
from assistant.recogniser.typed_recogniser import hear_typed


def warm_session() -> ReplayedSession:
    header = header_of(find_engine("practice"), "2026-05-01T09:00:00+00:00", 1, "typed")
    replayed = ReplayedSession(Session(session_config_of(header)))
    replayed.handle(Started(0.0, "raising steam"))
    for n, words in enumerate(("water half", "fire lit", "pressure sixty"), 1):
        replayed.handle(hear_typed(words, replayed.session.expected, 10.0 * n))
    return replayed


def test_what_goes_on_is_the_session_before_its_end() -> None:
    replayed = warm_session()
    before = replayed.session.state
    told = replayed.handle(StopAsked(40.0))
    assert Ended("stopped") in told
    assert "Fire in, sixty pounds" in " ".join(e.text for e in told if isinstance(e, Say))
    assert replayed.session.state.clock.over
    again = replayed.handle(Resumed(640.0, 600.0))
    assert "Where is the water?" in " ".join(e.text for e in again if isinstance(e, Say))
    assert replayed.session.state.reports == before.reports


def test_a_break_without_an_end_undoes_nothing() -> None:
    replayed = warm_session()
    replayed.handle(Tick(50.0))
    before = replayed.session.state
    replayed.reopen()
    assert replayed.session.state is before
