"""Whole steam-ups in normal running: the watch stays quiet.

Limits: one alarm in ten minutes on average, at most two in any ten (EEMUA 191 practice, stricter).
"""

from __future__ import annotations

import re

import pytest
from session_story import parts

from assistant.dialogue.session import Session
from assistant.dialogue.session_config import SessionConfig
from assistant.lab.benches.alarm_rates import practice_alarms
from assistant.messages import Effect, Event, Say
from assistant.wording.quantities import word_count

LONGEST = 14  # words: a forecast with its band, both over an hour; a step has twelve at most


class Overheard(Session):
    """A session whose words are kept."""

    def __init__(self, made: SessionConfig) -> None:
        super().__init__(made)
        self.said: list[str] = []

    def handle(self, event: Event) -> list[Effect]:
        effects = super().handle(event)
        self.said += [effect.text for effect in effects if isinstance(effect, Say)]
        return effects

    def sentences(self) -> set[str]:
        return {one for text in self.said for one in re.findall(r"[^.?!]+[.?!]", text)}


@pytest.mark.parametrize(("engine", "seed"), [("practice", 4), ("copper", 2), ("fullsize", 1)])
def test_a_steam_up_in_normal_running_is_quiet(engine: str, seed: int) -> None:
    made = parts(engine)
    session = Overheard(made)
    heard = practice_alarms(session, made.engine, made.lists, seed)
    assert heard.faults == (), "an internal error was caught"
    assert heard.ended == "all five phases done"
    assert heard.in_ten_minutes <= 1.0, heard.alarms
    assert heard.most_in_ten_minutes <= 2, heard.alarms
    assert not [one for one in session.sentences() if word_count(one) > LONGEST]
