"""The practice fault "low water" shows in every practice: on any day, before it is over."""

from __future__ import annotations

import pytest

from assistant.commands.session_build import header_of, session_config_of
from assistant.config.engine_file import find_engine
from assistant.dialogue.session import Session
from assistant.lab.benches.alarm_rates import NoWaiting
from assistant.messages import AlarmChanged, Effect, Ended, Event, Expected, Fault, Grade
from assistant.simulator import practice
from assistant.simulator.sound_rig import TypedRig


@pytest.mark.parametrize(
    ("engine", "seed"), [("copper", 2), ("copper", 12), ("practice", 3), ("fullsize", 1)]
)
def test_low_water_is_told_and_ends_the_practice(engine: str, seed: int) -> None:
    found = find_engine(engine)
    parts = session_config_of(header_of(found, "2026-05-01T09:00:00+00:00", seed, "test"))
    session = Session(parts)
    raised: list[AlarmChanged] = []

    def turn(event: Event) -> list[Effect]:
        effects = session.handle(event)
        assert not [e for e in effects if isinstance(e, Fault)]
        raised.extend(e for e in effects if isinstance(e, AlarmChanged) and e.state == "raised")
        return effects

    cast = practice.Cast(
        parts.engine, parts.lists, TypedRig(), NoWaiting(), seed, faults=("low water",)
    )
    tally = practice.play(cast, turn, lambda: session.expected, lambda at, who, what: None)
    dangers = [alarm.name for alarm in raised if alarm.grade is Grade.DANGER]
    # with a feed on nobody can tell a leak from a feed that gives nothing: either way it falls
    told = ("low water", "water out of sight", "no feed, water falling")
    assert dangers[:1] and dangers[0] in told
    assert tally.ended in {f"stopped in danger: {name}" for name in dangers}
    assert practice.verdict(tally, cast.faults, replayed=True) == (True, [])


def test_a_bug_of_ours_fails_the_rehearsal() -> None:
    parts = session_config_of(
        header_of(find_engine("copper"), "2026-05-01T09:00:00+00:00", 1, "test")
    )

    def turn(event: Event) -> list[Effect]:
        return [Fault("invented"), Ended("enough")]

    cast = practice.Cast(parts.engine, parts.lists, TypedRig(), NoWaiting(), 1)
    tally = practice.play(cast, turn, lambda: Expected(), lambda at, who, what: None)
    ok, wrong = practice.verdict(tally, (), replayed=True)
    assert not ok and "0 s: internal error: invented" in wrong
