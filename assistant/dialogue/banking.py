"""Banked for the night: water, pressure and a name are taken, then the book ends.

The report of it begins it; a fire seen to again, or out, a move, or "wrong" ends it. While a danger
stands nobody goes home. Knows no list.
"""

from __future__ import annotations

import re

from assistant.dialogue import hand_over
from assistant.dialogue.acceptance import accept_silently
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import clock
from assistant.dialogue.picture_now import on_watch
from assistant.messages import (
    BANKED_END,
    IN_A_NOTE,
    NOT_NAMED,
    ON_WATCH,
    Ended,
    Grade,
    Report,
    Urgency,
)
from assistant.picture.report_log import TimedReport
from assistant.wording import alarm_words, people_words

NIGHT = Report("night", "banked")
FIRE = Report("fire", "banked")
GOES_ON = frozenset({"lit", "built", "coal", "drawn", "dead", "run down"})  # of the fire
NO_FIRE = re.compile(r"\b(let the fire die|stop the heat)\b", re.IGNORECASE)
NAME = "name"
OVER_S = 1800.0  # left unfinished for so long it is forgotten. Judgement
WANTED = ("water", "pressure", NAME)  # in this order


def begun(context: EventContext) -> TimedReport | None:
    """The report of it, where the fire was not seen to since; None: nobody goes home."""
    night = context.state.latest(NIGHT.what)
    if night is None or context.elapsed(night.at, OVER_S):
        return None
    later = (t for t in context.state.reports.of("fire") if t.at >= night.at)
    moves = (t for t in context.state.reports.of("move") if t.at > night.at)
    if any(t.report.value in GOES_ON for t in later) or any(moves):
        return None
    return night


def in_hand(context: EventContext) -> bool:
    """Whether she is being left for the night, and no danger stands."""
    return begun(context) is not None and not _danger(context)


def missing(context: EventContext) -> str:
    """What is asked next: a gauge, or the name; empty where all is known."""
    night = begun(context)
    if night is None or not in_hand(context):
        return ""
    return next((what for what in WANTED if not _known(context, what, night.at)), "")


def _known(context: EventContext, what: str, since: float) -> bool:
    """Whether a gauge was called lately, or the name was given after she was banked."""
    if what == NAME:
        named = context.state.latest(ON_WATCH)
        return named is not None and named.at >= since and named.report.value != NOT_NAMED
    called = [t for t in context.state.reports.of(what) if t.report.unit is not None]
    interval_s = context.config.engine.water_interval_s
    return bool(called) and not context.elapsed(called[-1].at, interval_s)


def follow(context: EventContext) -> None:
    """After the alarms were looked at: a banked fire is a fact; the book ends when all is known.

    It never ends by time alone, nor beside a danger.
    """
    if NIGHT in context.accepted:
        _bank(context)
    if begun(context) is None or not context.accepted:
        return
    danger, left, all_known = _danger(context), hand_over.to_be_shut(context), not missing(context)
    if danger:
        if any(report.what in (NIGHT.what, ON_WATCH) for report in context.accepted):
            context.say(people_words.not_banked_in_danger(danger), Urgency.ANSWER)
    elif left and (all_known or NIGHT in context.accepted):
        context.say(people_words.not_banked_with(left), Urgency.ANSWER)
    elif all_known:
        _end(context)


def _bank(context: EventContext) -> None:
    """The fire is banked, whether it was said of itself or not."""
    if not context.state.latest_is(FIRE.what, str(FIRE.value)):
        accept_silently(context, FIRE)


def _danger(context: EventContext) -> str:
    """A danger that stands, or what wants the fire let die; nobody goes home beside it."""
    alarms = context.state.watch.alarms
    out = (a for a in alarms if a.rule.grade > Grade.CAUTION and NO_FIRE.search(a.rule.text))
    grave = (*(a for a in alarms if a.rule.grade is Grade.DANGER), *out)
    return next((alarm_words.plain(a.name) for a in grave), "")


def _end(context: EventContext) -> None:
    name = on_watch(context)
    context.record(Ended(BANKED_END))
    context.say(
        people_words.banked(
            hand_over.last_reading(context, "pressure"),
            hand_over.last_reading(context, "water"),
            "" if name == IN_A_NOTE else name,
            [*hand_over.defects(context), *hand_over.warnings(context)],
        ),
        Urgency.ANSWER,
    )
    clock.end(context)
