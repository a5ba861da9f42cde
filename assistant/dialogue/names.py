"""People by name: which names may be said now, and what follows when one is asked for.

A name that is not known is kept as a note with its sound, and written by hand in the report. Knows
no list and no engine.
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.dialogue import banking, hand_over, valve_figure
from assistant.dialogue.acceptance import accept_silently
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import questions
from assistant.grammar import names, notes
from assistant.messages import (
    IN_A_NOTE,
    LOOKED_AT,
    NAME_NOT_GIVEN,
    NOT_NAMED,
    ON_WATCH,
    Report,
    Urgency,
)
from assistant.wording import people_words

UNNAMED = Report("boiler", LOOKED_AT)


def known(context: EventContext) -> tuple[str, ...]:
    """The names that are understood: of the engine file, and those given at the start."""
    return tuple(dict.fromkeys((*context.config.people, *context.state.person.named)))


def forms(context: EventContext) -> Iterator[tuple[str, Report]]:
    """What may be said now with a name in it; the name alone where one was asked for."""
    people = known(context)
    yield from names.forms(people)
    if context.state.question.note_expected and context.state.reports:
        last = context.state.reports[-1].report
        yield from names.bare_forms(people, lambda name: _meant_by(last, name))


def _meant_by(last: Report, name: str) -> Report:
    """What a name alone reports, after this report."""
    if last == UNNAMED:
        return names.looked_at_by(name)
    if last.what == valve_figure.SAID:
        return Report(valve_figure.SAID_BY, name)
    return names.watch_of(name)


def follow(context: EventContext) -> None:
    """After reports were accepted: the watch is handed over, or to whom is asked."""
    for report in context.accepted:
        if report == Report(ON_WATCH, NOT_NAMED):
            questions.expect_note(context, True)
            context.say(people_words.who_has_the_watch(), Urgency.ANSWER)
        elif report.what == ON_WATCH and not banking.in_hand(context):
            hand_over.tell(context)


def noted(context: EventContext, text: str) -> None:
    """A note taken where a name was asked for is that name, but for one that begins with "note"."""
    if not context.before.question.note_expected or notes.in_one_breath(text) is not None:
        return
    last = context.state.reports[-1].report if context.state.reports else None
    if names.is_nobody(text):
        questions.expect_note(context, True)
        context.say(people_words.somebody_must(), Urgency.ANSWER)
        return
    if (named := _known_in(context, text)) is not None:
        accept_silently(context, named)
        follow(context)
        return
    goes_home = banking.missing(context) == banking.NAME
    if goes_home or last == Report(ON_WATCH, NOT_NAMED):
        accept_silently(context, Report(ON_WATCH, IN_A_NOTE))
    if last == Report(ON_WATCH, NOT_NAMED) and not goes_home:
        hand_over.tell(context)


def _known_in(context: EventContext, text: str) -> Report | None:
    """What the note reports where it is nothing but a known name, typed ahead of the question."""
    if not context.state.reports:
        return None
    last, said = context.state.reports[-1].report, " ".join(text.lower().split())
    bare = names.bare_forms(known(context), lambda name: _meant_by(last, name))
    return dict(bare).get(said)


def settle(context: EventContext) -> None:
    """Asked for a name he said something else: the book says so. "Say again" leaves it open."""
    before = context.before
    if not before.question.note_expected or context.state.question.note_expected:
        return
    latest = context.state.latest("boiler")
    if context.order == "repeat":
        questions.expect_note(context, True)
        return
    asked = before.reports and before.reports[-1].report == UNNAMED
    if asked and context.understood and latest is not None and latest.report == UNNAMED:
        accept_silently(context, Report("boiler", NAME_NOT_GIVEN))
