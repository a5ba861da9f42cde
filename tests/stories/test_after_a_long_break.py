"""After more than a quarter of an hour away, what was told before is unknown, in the lists too."""

from __future__ import annotations

from dataclasses import replace

import pytest
from day_story import Day, taken_over
from session_story import parts

from assistant.dialogue.session import Session
from assistant.messages import Resumed, Say, Started, StepAsked, StepOvertaken, Tone
from assistant.procedure.checklist import Step

ENGINES = ("practice", "copper", "fullsize")


def prepared(engine: str = "practice") -> Day:
    day = Day(engine)
    day.tell(
        "0:10 plate is right\n0:15 water half\n0:20 brake on and chocked\n0:40 gear is out\n1:00"
    )
    assert day.session.state.progress.is_done("brake and chocks"), "the story's ground"
    return day


def asked(day: Day, since_s: float) -> set[str]:
    return {e.step for at, e in day.came if isinstance(e, StepAsked) and at >= since_s}


@pytest.mark.parametrize("engine", ENGINES)
def test_a_killer_or_hold_that_a_state_answered_is_asked_again(engine: str) -> None:
    day = prepared(engine)
    said = day.away(16.0).lower()
    assert {"brake and chocks", "out of gear"} <= {step.id for step in _open_musts(day)}
    assert "i was away sixteen minutes." in said


def test_a_short_break_forgets_nothing() -> None:
    day = prepared()
    day.away(14.0)
    assert day.session.state.progress.is_done("brake and chocks")


def test_a_resumed_book_asks_them_again_too() -> None:
    day = prepared()
    day.at += 1200.0
    day.event(Resumed(day.at, 1200.0))
    assert not day.session.state.progress.is_done("brake and chocks")


def test_what_is_no_guard_is_not_asked_twice() -> None:
    day = prepared()
    day.reply("gloves are on")
    before = {d.step for d in day.session.state.progress.done}
    guards = {s.id for s in day.session.state.progress.steps if s.must and s.kind != "value"}
    day.away(30.0)
    assert {d.step for d in day.session.state.progress.done} == before - guards


def test_answered_again_the_list_goes_on() -> None:
    day = prepared()
    day.away(20.0)
    day.reply("brake on and chocked")
    assert day.session.state.progress.is_done("brake and chocks")


def test_under_steam_what_was_asked_of_a_cold_engine_does_not_come_back() -> None:
    day = taken_over("standing by", "practice", "pressure sixty")
    day.away(20.0)
    said = day.silence(10.0)
    assert "prove the glass cold" not in said.lower()
    assert all(step.while_ != "cold" for step in _open_musts(day))


def _open_musts(day: Day) -> list[Step]:
    progress = day.session.state.progress
    return [s for s in progress.steps if s.must and not progress.is_settled(s.id)]


def owners_engine() -> Session:
    """An owner's killer of a cold engine that no step of steam takes the place of."""
    config = parts("practice")
    first = config.lists[0]
    step = next(s for s in first.steps if s.id == "glass proved cold")
    own = replace(step, id="whistle dry", asks="whistle", warm="", proves="", after=(), again="")
    lists = (replace(first, steps=(*first.steps, own)), *config.lists[1:])
    return Session(replace(config, lists=lists))


def test_a_killer_that_nothing_takes_the_place_of_is_a_caution_once_and_in_the_book() -> None:
    day = Day()
    day.session = owners_engine()
    day.came = [(0.0, e) for e in day.session.handle(Started(0.0))]
    day.tell(
        "0:10 water half\n1:00 fire lit\n20:00 pressure thirty\n20:10 yes\n40:00 fire is built"
    )
    told = [e for _, e in day.came if isinstance(e, StepOvertaken) and e.step == "whistle dry"]
    assert [e.because for e in told] == ["steam; nothing takes its place"]
    words = "Caution. Never answered, and its time is over: whistle dry."
    assert [e.text for _, e in day.came if isinstance(e, Say)].count(words) == 1
    assert any(isinstance(e, Tone) and e.grade.word == "caution" for _, e in day.came)
