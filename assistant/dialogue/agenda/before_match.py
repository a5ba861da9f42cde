"""What was found against lighting her after its step was answered: the last word counts. Speaks
nothing.

Reads the cold lists and the last report of each subject; common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from assistant.dialogue.agenda.need import Need, Rank
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.procedure import position
from assistant.procedure.checklist import Checklist, Phase, Step, fits
from assistant.procedure.scale import options
from assistant.wording import engine_words

COLD = (Phase.PREPARATION, Phase.FIRING)
NAME = "against the match: "  # of the need; the id of the step follows
SAYS_SO = re.compile(r"\b(do not light|no steam)\b", re.IGNORECASE)
RESPOND_S = 60.0


def needs(context: EventContext) -> Iterator[Need]:
    """What is to be put right before she is lit, the first of it."""
    step = next(_against(context), None)
    if step is not None:
        yield Need(NAME + step.id, Rank.DUE, RESPOND_S, words=_words(context, step))


def stands(context: EventContext) -> bool:
    """Whether anything stands against lighting her."""
    return next(_against(context), None) is not None


def _against(context: EventContext) -> Iterator[Step]:
    """The steps of preparation, past, whose subject was last told to be other than it must be."""
    if context.state.phase not in COLD or context.state.fire_in:
        return
    if picture_now(context).steam.value == "steam":
        return
    checklist = context.config.list_of(Phase.PREPARATION)
    for step in () if checklist is None else _steps(context, checklist):
        last = context.state.latest(step.asks)
        if last is None or not isinstance(last.report.value, str):
            continue
        if _fails(step, last.report.value) and not _is_open(context, step):
            yield step


def _steps(context: EventContext, checklist: Checklist) -> Iterator[Step]:
    """Those of this engine that a state answers."""
    fitted = options(context.config.engine)
    return (s for s in checklist.steps if s.kind != "value" and fits(s, fitted))


def _fails(step: Step, state: str) -> bool:
    return any(reply.state == state and not reply.passes for reply in step.replies)


def _is_open(context: EventContext, step: Step) -> bool:
    """Whether its own list still asks it."""
    return step in position.open_steps(context.state.progress)


def _words(context: EventContext, step: Step) -> str:
    last = context.state.latest(step.asks)
    state = "" if last is None else last.report.value
    then = next((reply.then for reply in step.replies if reply.state == state), "") or step.say
    return then if SAYS_SO.search(then) else engine_words.do_not_light(then)
