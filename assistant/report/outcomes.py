"""Whether a test that was called was passed, by what the journal shows of it. Pure.

A word alone proves neither a feed nor the safety valve: that takes readings.
"""

from __future__ import annotations

from typing import Literal

from assistant.belief.gauge_and_valve import NEAR_WITHIN_S, compared
from assistant.belief.history import History, fact_of
from assistant.messages import Report
from assistant.report.story import Story
from assistant.report.story_values import Call

Outcome = Literal["passed", "failed", "not proved"]

BY_EYE: dict[str, tuple[frozenset[str], frozenset[str]]] = {  # states: passed, failed
    "safety valve": (frozenset({"free"}), frozenset({"stuck"})),
    "glass": (
        frozenset({"comes back at once", "new glass proved", "brisk"}),
        frozenset({"comes back slowly", "stays empty", "fills and stays", "does not move"}),
    ),
    "lubricator": (frozenset({"moving"}), frozenset({"stands still"})),
}
FEEDS = frozenset({"hand pump", "injector", "delivery"})
FEED_FAILS = frozenset({"fails", "hot", "gives no gain"})
GAINED, NO_GAIN = "feed proved", "feed dead"  # step that takes two readings; alarm of two
FEED_TELLS_S = 900.0  # so long after the word they are of this test. Judgement


def outcome(story: Story, call: Call) -> Outcome:
    """What the journal shows of a test."""
    what, value = call.report.what, str(call.report.value)
    if what in BY_EYE:
        passed, failed = BY_EYE[what]
        return "passed" if value in passed else "failed" if value in failed else "not proved"
    return _of_a_feed(story, call) if what in FEEDS else _of_the_valve(story, call)


def _of_a_feed(story: Story, call: Call) -> Outcome:
    """By the word where it failed; where it worked by the readings of the glass that followed."""
    from_s, to_s = call.at_s, call.at_s + FEED_TELLS_S
    if str(call.report.value) in FEED_FAILS:
        return "failed"
    if any(a.name == NO_GAIN and from_s <= a.raised_s <= to_s for a in story.alarms):
        return "failed"
    gained = (
        s.name == GAINED and s.answer is not None and from_s <= s.at_s <= to_s and not s.skipped
        for s in story.steps
    )
    return "passed" if any(gained) else "not proved"


def _of_the_valve(story: Story, call: Call) -> Outcome:
    """By the gauge called within a minute of its movement."""
    if story.engine is None:
        return "not proved"
    engine, until_s = story.engine.engine, call.at_s + NEAR_WITHIN_S
    history = History()
    for one in story.standing:
        fact = fact_of(engine, one.report, one.at_s) if one.at_s <= until_s else None
        history = history if fact is None else history.with_fact(fact)
    found = compared(history, engine)
    began = found.conflict is not None and found.conflict.since_s >= call.at_s - NEAR_WITHIN_S
    read = any(abs(p.at_s - call.at_s) <= NEAR_WITHIN_S for p in history.pressures)
    if began or (read and (found.conflict is not None or found.unfit)):
        return "failed"
    near = found.agreed_s is not None and abs(found.agreed_s - call.at_s) <= NEAR_WITHIN_S
    return "passed" if near else "not proved"


def is_test(report: Report) -> bool:
    """Whether it tells of a test: a valve that is shut, and a glass that was put in, do not."""
    return (report.what, report.value) not in {("valve", "shut"), ("glass", "new")}
