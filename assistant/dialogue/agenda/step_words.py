"""A step's words as they may be said now: no feed where none may be, no act that was just done.
Speaks nothing.

Knows the last reports of the fittings and the form in which a list commands them.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from assistant.dialogue.agenda import heat_rows, heat_stop, water_forbids
from assistant.dialogue.event_context import EventContext
from assistant.procedure.checklist import Step
from assistant.wording import walkthrough

BLOWER = "blower"
HOLDS_S = 900.0  # so long a report of a fitting is taken for what is. Judgement
_COMMAND = re.compile(
    r"^(shut|open) the (blower|damper|regulator|drain cocks|bypass)\b(?! less\b)(.*)$",
    re.IGNORECASE,
)
_BLOWER_ON = re.compile(r"\b(b)lower on\b", re.IGNORECASE)
_SUBJECTS = {"drain cocks": "drains"}


def words(context: EventContext, say: str) -> str:
    """The step as it is to be put now."""
    return without(water_forbids.words(context, say), lambda subject: _state(context, subject))


def prompt(context: EventContext, step: Step, cautioned: bool = True) -> str:
    """The step as it is put, preceded by its caution. cautioned: whether with that."""
    first = caution(context, step) if cautioned else ""
    return walkthrough.step(_as_it_stands(context, step) or words(context, step.say), first)


def _as_it_stands(context: EventContext, step: Step) -> str:
    """Of an act at the blower that went too far already: that, and the act that mends it."""
    if step.kind != "act" or step.asks != BLOWER:
        return ""
    state = _state(context, BLOWER)
    too_far = (reply for reply in step.replies if reply.state == state and not reply.passes)
    return next((f"Blower {state}. {reply.then}" for reply in too_far if reply.then), "")


def caution(context: EventContext, step: Step) -> str:
    """Its caution. Where the blower is wanted down to a crack, no more of it is asked for.

    With the heat stopped neither blower nor damper is.
    """
    if heat_stop.told(context):
        return heat_stop.acts(context, step.caution)
    enough = heat_rows.blower_is_enough(context)
    return blower_a_crack(step.caution) if enough else step.caution


def blower_a_crack(text: str) -> str:
    """The same with the blower a crack open.

    >>> blower_a_crack("Firehole door shut, blower on. Gloves.")
    'Firehole door shut, blower a crack. Gloves.'
    """
    return _BLOWER_ON.sub(r"\1lower a crack", text)


def without(say: str, state_of: Callable[[str], str | None]) -> str:
    """The sentences without a command that was done already; a question where nothing is left.

    >>> state = {"damper": "open", "bypass": "shut"}.get
    >>> without("Open the damper. Drawing now?", state), without("Shut the bypass, gently.", state)
    ('Drawing now?', 'Bypass still shut?')
    >>> without("Open the damper, see the smokebox door shut.", state)
    'See the smokebox door shut.'
    """
    kept, done = [], ""
    for sentence in re.findall(r"[^.?!]+[.?!]*", say):
        command = _COMMAND.match(sentence.strip())
        wanted, subject = (command[1].lower(), command[2].lower()) if command else ("", "")
        if command and state_of(_SUBJECTS.get(subject, subject)) == wanted:
            done = f"{subject.capitalize()} still {wanted}?"
            rest = command[3].lstrip(", ")
            kept += [rest[0].upper() + rest[1:]] if len(rest.split()) > 1 else []
        else:
            kept.append(sentence.strip())
    if not done:
        return say
    return " ".join(kept) or done


def _state(context: EventContext, subject: str) -> str | None:
    """The state last reported of a subject, where that is not long ago."""
    latest = context.state.latest(subject)
    if latest is None or context.elapsed(latest.at, HOLDS_S):
        return None
    return str(latest.report.value)
