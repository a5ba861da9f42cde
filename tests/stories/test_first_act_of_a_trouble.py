"""The first act of a trouble is spoken as it is reported, and none is struck off unsaid."""

from __future__ import annotations

import pytest
from session_story import Story, steaming

FIRST = {
    "pump trouble": "Bypass shut, suction cock open.",
    "injector trouble": "Steam off",
    "pressure hangs": "Fire dull, holed or clinkered?",
    "gauge trouble": "Gauge cock: open, or shut?",
}


@pytest.mark.parametrize("words", sorted(FIRST))
def test_in_the_same_breath(words: str) -> None:
    story = steaming()
    story.wait(400.0)  # water and pressure are overdue, and asked for
    story.say(words)
    assert FIRST[words] in story.text()


def test_priming_is_a_warning_with_its_act_first() -> None:
    story = steaming()
    story.wait(400.0)
    story.say("priming now")
    assert story.said()[0] == "Warning. Drain cocks open. Regulator shut, gently."
    story.through("regulator shut", "drains open", "quiet again")
    assert "priming" not in {alarm.name for alarm in story.session.state.watch.alarms}


def test_no_and_again_no_go_on_through_the_checks() -> None:
    story = steaming()
    story.say("pump trouble")
    said: list[str] = []
    for _ in range(3):
        story.say("no")
        said.append(story.text())
    assert not any("Taken back" in text for text in said)
    assert all(text.endswith("?") for text in said)
    assert len(set(said)) == 3


def test_still_the_same_answers_only_what_was_said() -> None:
    story = steaming()
    story.say("priming now")
    before = len(story.session.state.progress.done)
    story.say("still the same")
    assert len(story.session.state.progress.done) == before


def test_yes_to_a_check_is_answered() -> None:
    story: Story = steaming()
    story.say("pump trouble")
    story.say("yes")
    assert story.said()
