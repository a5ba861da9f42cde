"""What was found against lighting her after its step was answered: the last word counts. Speaks
nothing.

Reads the cold lists and the last report of each subject; common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import islice

from assistant.dialogue.agenda.need import Need, Rank
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.procedure import position
from assistant.procedure.checklist import Phase, Reply, Step, for_engine
from assistant.procedure.scale import options
from assistant.wording import engine_words
from assistant.wording.quantities import sentences

NOT_LIT = "Do not light"
COLD = (Phase.PREPARATION, Phase.FIRING)
NAME = "against the match: "  # of the need; the id of the step follows
SAYS_SO = re.compile(r"\b(do not light|no steam)\b", re.IGNORECASE)
RESPOND_S = 60.0


def needs(context: EventContext) -> Iterator[Need]:
    """What is to be put right before she is lit, the first of it."""
    for step, reply in islice(_against(context), 1):
        then = reply.then or step.say
        words = then if SAYS_SO.search(then) else engine_words.do_not_light(then)
        yield Need(NAME + step.id, Rank.DUE, RESPOND_S, words=words)


def stands(context: EventContext) -> bool:
    """Whether anything stands against lighting her."""
    return next(_against(context), None) is not None


def _against(context: EventContext) -> Iterator[tuple[Step, Reply]]:
    """The steps of preparation, past, whose subject was last told to be other than it must be, with
    the answer that says so.
    """
    if context.state.phase not in COLD or context.state.fire_in:
        return
    if picture_now(context).steam.value == "steam":
        return
    checklist = context.config.list_of(Phase.PREPARATION)
    if checklist is None:
        return
    still_asked = position.open_steps(context.state.progress)
    for step in for_engine(checklist, options(context.config.engine)).steps:
        last = context.state.latest(step.asks)
        if last is None or step.kind == "value" or step in still_asked:
            continue
        for reply in step.replies:
            if reply.state == last.report.value and not reply.passes:
                yield step, reply


def reply(context: EventContext, text: str) -> str:
    """The reply to an answer; with the fire in, without "do not light"."""
    if not context.state.fire_in or NOT_LIT not in text:
        return text
    return " ".join(each for each in sentences(text) if not each.startswith(NOT_LIT))
