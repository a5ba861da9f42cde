"""What can be said now, as it is told on being asked, and after words that were not followed."""

from __future__ import annotations

from assistant.alarms.water_rules import hot
from assistant.dialogue import plate_check
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import needs
from assistant.dialogue.picture_now import picture_now
from assistant.grammar import near_typing
from assistant.messages import Urgency
from assistant.procedure import plate, position
from assistant.wording import help_words, readback

GAUGES = ("pressure", "water", "tank")
MOST_ANSWERS = 2  # of the question in hand; more are not kept in mind


def asked_gauge(context: EventContext) -> str | None:
    """The gauge whose reading is awaited."""
    kind = context.state.hearing.expected.kind
    return kind if kind in GAUGES else None


def answers_now(context: EventContext) -> tuple[str, ...]:
    """One form for each answer of what is asked, or would be asked next."""
    if plate_check.has_floor(context):
        return tuple(plate.EXAMPLES)
    progress = context.state.progress
    step = position.in_hand(progress) or position.current(progress)
    return tuple(step.examples()) if step is not None else ()


def not_followed(context: EventContext, text: str = "") -> None:
    """Words that are no sentence of the grammar: what could be said instead. Over heat, the level
    is asked for where they speak of it.
    """
    if near_typing.speaks_of_the_level(text) and hot(picture_now(context)):
        context.say(readback.no_level_in_it(), Urgency.ANSWER)
        needs.put(context, "water", "water", again=False)
        return
    about, answers = asked_gauge(context), answers_now(context)
    context.say(readback.nonsense(about, answers, context.config.dial), Urgency.ANSWER)


def tell(context: EventContext) -> None:
    """The few words that fit now, those for trouble first."""
    state, dial = context.state, context.config.dial
    answers = readback.examples(asked_gauge(context), answers_now(context), dial)
    hot = state.fire_in or state.procedure.warm_since is not None
    text = help_words.help_words(hot, answers[:MOST_ANSWERS], dial, bool(state.watch.danger))
    context.say(text, Urgency.ANSWER)


def tell_troubles(context: EventContext) -> None:
    """The words for trouble only."""
    context.say(help_words.trouble_words(), Urgency.ANSWER)
