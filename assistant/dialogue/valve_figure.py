"""At what the valve is set, said by a person: the figure, and who says so.

While gauge and valve differ somewhat, a named person may end that for the day. The figure counts
when a name is in the book with it: the person on watch, or the one who says it into the note.
"""

from __future__ import annotations

from functools import lru_cache

from assistant.belief.gauge_and_valve import FIGURE
from assistant.dialogue.acceptance import accept_silently
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import questions
from assistant.dialogue.picture_now import picture_now
from assistant.grammar.readings import pressure_numbers
from assistant.messages import Report, Urgency
from assistant.wording import engine_words

SAID = "valve set"  # the subject of the figure itself
SAID_BY = "valve set by"  # a person who is known by name
NAMED = Report(FIGURE, "named")
FRAMES = ("valve is set at {}", "the valve is set at {}", "safety valve is set at {}")


def forms(context: EventContext) -> tuple[tuple[str, Report], ...]:
    """The words in which it may be said now: only while gauge and valve differ."""
    stand = context.state.belief.facts.gauge_and_valve
    if stand.conflict is None and not stand.unfit:
        return ()
    return _forms(context.config.dial)


@lru_cache(maxsize=4)
def _forms(dial: str) -> tuple[tuple[str, Report], ...]:
    return tuple(
        (frame.format(" ".join(number)), Report(SAID, value, dial))
        for number, value in pressure_numbers(dial)
        for frame in FRAMES
        if value > 0.0
    )


def follow(context: EventContext) -> None:
    """After the figure was said: with the person on watch it counts, else the name is asked for."""
    if any(report.what == SAID_BY for report in context.accepted):
        _count(context)
        return
    if not any(report.what == SAID for report in context.accepted):
        return
    if picture_now(context).person.watch:
        _count(context)
        return
    questions.expect_note(context, True)
    context.say(engine_words.who_says_so(), Urgency.ANSWER)


def noted(context: EventContext) -> None:
    """A note was taken: after the figure it is the name of who says so."""
    reports = context.state.reports
    if reports and reports[-1].report.what == SAID:
        _count(context)


def _count(context: EventContext) -> None:
    accept_silently(context, NAMED)
