"""Which checklists a session used: the assistant's own, and what an owner's list changes."""

from __future__ import annotations

import hashlib
from pathlib import Path

from report_books import STARTED

from assistant.journal.header import Header, KeptText
from assistant.report.lists import list_rows

SHIPPED = Path(__file__).parent.parent.parent / "checklists"
FIRING = (SHIPPED / "firing.yaml").read_text(encoding="utf-8")
OWNER = """\
name: my firing
title: My firing
extends: firing
steps:
  - id: chimney lid
    say: Lid off the chimney?
    asks: chimney lid
    kind: state
    answers: [{state: "off", say: lid is off}]
    why: It smokes.
    source: common practice, no source
    put_after: damper open
"""


def rows(*texts: KeptText) -> list[tuple[str, str]]:
    return list(list_rows(Header("Test engine", STARTED, 1, 101_325.0, texts)))


def shipped(name: str, text: str) -> KeptText:
    return KeptText("checklist", f"/shipped/{name}.yaml", text)


def test_a_session_without_lists_says_so() -> None:
    assert rows() == [("lists", "none")]


def test_the_assistants_own_lists_are_counted() -> None:
    assert rows(shipped("firing", FIRING), shipped("pumping", FIRING)) == [
        ("lists", "2 of the assistant's own")
    ]


def test_an_owners_list_is_shown_with_the_steps_that_are_its_own() -> None:
    _, (name, text) = rows(
        shipped("firing", FIRING), KeptText("checklist", "/home/owner/mine.yaml", OWNER)
    )
    assert name == "owner's list mine.yaml"
    assert "steps from this file: chimney lid (line 5); " in text
    assert hashlib.sha256(OWNER.encode()).hexdigest() in text


def test_an_owners_list_that_cannot_be_read_is_not_hidden() -> None:
    broken = KeptText("checklist", "/home/owner/mine.yaml", OWNER.replace("steps:", "stages:"))
    _, (_, text) = rows(shipped("firing", FIRING), broken)
    assert text.startswith("cannot be read any more: ")


def test_an_owners_emergencies_are_shown_and_the_shipped_ones_are_not() -> None:
    own = KeptText("emergencies", "/home/owner/emergencies.yaml", "x")
    default = KeptText("emergencies", "/shipped/emergencies.yaml", "x")
    assert [name for name, _ in rows(shipped("firing", FIRING), own)] == ["lists", "emergencies"]
    assert [name for name, _ in rows(shipped("firing", FIRING), default)] == ["lists"]
