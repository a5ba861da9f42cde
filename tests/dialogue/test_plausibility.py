"""Which reports a gauge cannot show, which the belief contradicts, and how carefully to listen."""

from __future__ import annotations

import pytest
from session_story import Story, in_steam, parts

from assistant.belief import estimate
from assistant.dialogue import plausibility
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import boiler
from assistant.messages import Fault, Report, Tick
from assistant.understanding.meanings import Care, Mark


def context_of(story: Story) -> EventContext:
    return EventContext(parts(), story.session.state, Tick(story.at))


GLASS = parts().engine.glass


@pytest.mark.parametrize(
    ("report", "possible"),
    [
        (Report("pressure", 60.0, "psi"), True),
        (Report("pressure", 400.0, "psi"), False),
        (Report("pressure", 40.0, "bar"), False),
        (Report("water", 1.0, "glass"), True),
        (Report("water", 1.2, "glass"), False),
        (Report("water", "out of sight"), True),
        (Report("fire", "lit"), True),
        (Report("pressure", 60.0, "furlong"), True),
    ],
)
def test_a_value_no_gauge_can_show_is_named(report: Report, possible: bool) -> None:
    reason = plausibility.off_gauge_reason(context_of(in_steam()), report)
    assert (reason is None) is possible


@pytest.mark.parametrize(
    ("level", "mark"),
    [(GLASS.lower_mark, Mark.LOW), (GLASS.lower_mark + 0.05, Mark.NEAR), (0.5, None)],
)
def test_a_level_at_a_mark_wants_more_care(level: float, mark: Mark | None) -> None:
    assert plausibility.mark_of(context_of(in_steam()), Report("water", level, "glass")) is mark


def test_a_hold_wants_the_most_care() -> None:
    assert plausibility.care_now(context_of(Story())) is Care.HOLD


def test_a_shut_bypass_is_a_feed_and_anything_else_is_itself() -> None:
    assert boiler.as_feed(Report("bypass", "shut")) == Report("feed", "on")
    assert boiler.as_feed(Report("bypass", "open")) == Report("feed", "off")
    assert boiler.as_feed(Report("feed", "on")) == Report("feed", "on")


def test_the_belief_objects_to_a_leap_and_not_to_what_was_just_called() -> None:
    story = in_steam()
    story.wait(30)
    context = context_of(story)
    assert plausibility.objection_to(context, Report("pressure", 120.0, "psi")) is not None
    assert plausibility.objection_to(context, Report("pressure", 60.0, "psi")) is None


def test_a_failing_belief_objects_to_nothing_and_the_fault_is_recorded(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def broken(*of: object) -> float:
        raise RuntimeError("invented")

    monkeypatch.setattr(estimate, "chance", broken)
    monkeypatch.setattr(estimate, "objection", broken)
    context = context_of(in_steam())
    assert plausibility.plausibility_of(context, Report("pressure", 60.0, "psi")) is None
    assert plausibility.objection_to(context, Report("pressure", 60.0, "psi")) is None
    assert context.records == (Fault("RuntimeError: invented"),) * 2
