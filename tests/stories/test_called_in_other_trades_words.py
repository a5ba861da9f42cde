"""Calls in the words of another school: each is the danger that it means."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from day_story import taken_over
from session_story import parts

from assistant.config.emergencies_file import emergencies_from_text, shipped_emergencies
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.expectation import expected
from assistant.dialogue.session import Session
from assistant.grammar.phrases import grammar
from assistant.messages import ExpectedKind, Report, Started, Tick


@pytest.mark.parametrize(
    ("words", "alarm"),
    [
        ("soft plug blew", "plug has gone"),
        ("check valve stuck open", "clack is stuck open"),
        ("water glass broke", "glass broken"),
        ("in the bottom nut", "water out of sight"),
        ("water in the stack", "priming"),
        ("someone is caught", "someone is trapped"),
        ("somebody is caught", "someone is trapped"),
    ],
)
def test_it_is_the_danger_that_it_means(words: str, alarm: str) -> None:
    day = taken_over("standing by")
    day.reply(words)
    assert alarm in day.standing


def test_gauge_at_nothing_is_a_reading() -> None:
    day = taken_over("standing by")
    assert "Pressure zero: is that right?" in day.reply("gauge at nothing")
    day.reply("that's right")
    assert "pressure lost" in day.standing


def test_somebody_caught_is_freed_before_he_is_treated() -> None:
    day = taken_over("standing by")
    said = day.reply("someone is caught")
    assert "Drain cocks open, mid gear." in said and "by hand only to free" in said


@pytest.mark.parametrize(
    ("owners", "means"), [(True, "someone hurt"), (False, "someone is trapped")]
)
@pytest.mark.parametrize("kind", ["state", "answer"])
def test_an_owners_file_that_has_it_under_someone_hurt_keeps_it(
    owners: bool, means: str, kind: ExpectedKind
) -> None:
    shipped = shipped_emergencies()
    own = Path(shipped.file).read_text(encoding="utf-8")
    own = own.replace("someone is caught, hand", "hand").replace("general: yes", "general: no")
    own = own.replace("call an ambulance]", "call an ambulance, someone is caught]")
    theirs = emergencies_from_text(own, Path("own.yaml"))
    config = replace(parts(), emergencies=theirs if owners else shipped)
    session = Session(config)
    session.handle(Started(0.0, "preparation", 1))
    listened = expected(EventContext(config, session.state, Tick(1.0)))
    meant = grammar(replace(listened, kind=kind)).parse("someone is caught")
    assert meant == Report("emergency", means)
