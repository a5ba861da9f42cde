"""A row or part of ours that fails is told once; the others go on, and no report is lost."""

from __future__ import annotations

from dataclasses import replace
from typing import NoReturn

import pytest
from session_story import in_steam, parts, texts

from assistant.alarms import watch as watching
from assistant.alarms.rule import Rule
from assistant.alarms.rules import RULES
from assistant.dialogue import alarm_notices, checklist_flow, expectation, prompts, wake_gate
from assistant.dialogue.agenda import heat_rows, rows
from assistant.dialogue.owners import boiler
from assistant.messages import AlarmChanged, Fault, Report, Tick
from assistant.wording import readback

FAULT = "Assistant fault. Trust the gauges."
SIXTY_FIVE = Report("pressure", 65.0, "psi")
LOST = "water out of sight"


def broken(*anything: object, **more: object) -> NoReturn:
    raise RuntimeError("invented")


PARTS = {
    "wake gate": (wake_gate, "open_gate"),
    "alarms": (alarm_notices, "watch_and_tell"),
    "lists and agenda": (checklist_flow, "proceed"),
    "what is listened for": (expectation, "expected"),
    "belief": (boiler, "enter"),
    "read-back": (readback, "read_back_several"),
    "forecasts": (prompts, "_tell_forecasts"),
}


@pytest.mark.parametrize("name", list(PARTS))
def test_the_report_is_kept_and_the_fault_is_told_once(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    story = in_steam()
    monkeypatch.setattr(*PARTS[name], broken)
    effects = story.say("pressure sixty five")
    assert [e for e in effects if isinstance(e, Fault)] != []
    assert texts(effects).count(FAULT) == 1
    assert story.session.state.reports[-1].report == SIXTY_FIVE
    story.say("water half")
    assert FAULT not in story.said(), "not again within ten minutes"
    assert story.session.state.reports[-1].report.what == "water"


@pytest.mark.parametrize("name", [name for name in PARTS if name != "alarms"])
def test_a_danger_is_raised_beside_it(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    story = in_steam()
    monkeypatch.setattr(*PARTS[name], broken)
    story.say("no water in sight")
    raised = [e.name for e in story.got(AlarmChanged) if e.state == "raised"]
    assert LOST in raised


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_an_alarm_row_that_fails_keeps_no_other_quiet(
    rule: Rule, monkeypatch: pytest.MonkeyPatch
) -> None:
    bad = replace(rule, condition=broken, normal=broken, deadline=broken)
    table = tuple(bad if each is rule else each for each in watching.GRAVEST_FIRST)
    monkeypatch.setattr(watching, "GRAVEST_FIRST", table)
    monkeypatch.setattr(watching, "DEADLINES", tuple(each.deadline for each in table))
    story = in_steam()
    assert isinstance(story.session.handle(Tick(story.at + 1.0)), list)
    danger = "steam escaping" if rule.name == LOST else "no water in sight"
    effects = story.say(danger)
    raised = [e.name for e in effects if isinstance(e, AlarmChanged) and e.state == "raised"]
    assert ("steam escaping" if rule.name == LOST else LOST) in raised
    assert [e for e in effects if isinstance(e, Fault)] != []


@pytest.mark.parametrize("place", range(len(rows.ROWS)))
def test_a_row_of_the_agenda_that_fails_keeps_no_other_quiet(
    place: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    failing = [broken if n == place else row for n, row in enumerate(rows.ROWS)]
    monkeypatch.setattr(rows, "ROWS", tuple(failing))
    story = in_steam()
    came = story.wait(parts().engine.water_interval_s + 60.0)
    assert any("Where is the water?" in text for text in texts(came))
    assert [e for e in came if isinstance(e, Fault)] != []


@pytest.mark.parametrize("name", ["_allowed", "_not_late", "_readings", "_steps"])
def test_what_the_rows_go_through_may_fail_and_a_danger_is_said(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(rows, name, broken)
    story = in_steam()
    story.say("no water in sight")
    assert "Danger. Stop the heat. No water in sight." in story.said()
    assert story.got(Fault) != []


def test_heat_rows_that_fail_keep_no_other_quiet(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(heat_rows, "near_working", broken)
    story = in_steam()
    came = story.wait(parts().engine.water_interval_s + 60.0)
    assert any("Where is the water?" in text for text in texts(came))


def test_a_picture_that_fails_is_told_and_the_report_is_kept(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    story = in_steam()
    monkeypatch.setattr("assistant.dialogue.picture_now.picture_of", broken)
    story.say("water half")
    assert FAULT in story.said()
    assert story.session.state.reports[-1].report.what == "water"
