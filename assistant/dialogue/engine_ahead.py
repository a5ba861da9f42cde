"""The engine is ahead of the list: there is steam in her, and the list in hand is a cold one.

One question moves the list. It is put when a pressure is called, not concluded. Put twice without
an answer, while the gauge was called with steam twice, the list follows by itself and says so.
"""

from __future__ import annotations

from assistant.dialogue import acceptance, following, refused_moves
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import needs, questions
from assistant.dialogue.picture_now import picture_now
from assistant.dialogue.state import AHEAD, Doubt
from assistant.messages import Report, Urgency
from assistant.picture.fire import BURNING
from assistant.procedure.checklist import Phase
from assistant.procedure.phases import MOVE
from assistant.procedure.scale import measure
from assistant.wording import walkthrough

COLD = refused_moves.COLD
AGAIN_S = 60.0  # the question again, with the next call of the gauge. Judgement
UNDONE_AGAIN_S = 600.0  # after the driver took it back. Judgement
TIMES = 2  # so often the question is put; then the list follows. Judgement
CALLS = 2  # calls of a gauge off its pin. Judgement
TAKEN_BACK = "taken back"
OVERTAKE = Report(MOVE, "overtake")


def ask_to_follow(context: EventContext) -> bool:
    """Ask whether to go on from raising steam, where a pressure says so; whether it was asked."""
    state = context.state
    if state.phase not in COLD or state.doubt is not None or state.procedure.parked:
        return False
    called = any(report.what == "pressure" for report in context.accepted)
    if not called or not picture_now(context).steam.high:
        return False
    asked = state.asked.get(AHEAD)
    if asked is not None:
        undone = asked.what == TAKEN_BACK
        if not context.elapsed(asked.last_at, UNDONE_AGAIN_S if undone else AGAIN_S):
            return False
        if not undone and asked.times >= TIMES and follow(context):
            return False
    needs.put(context, AHEAD, AHEAD, again=asked is None or asked.what == AHEAD)
    questions.doubt(context, Doubt(OVERTAKE, "the gauge shows steam", context.at))
    context.say(walkthrough.steam_in_her(), Urgency.ANSWER)
    return True


def how_she_is(context: EventContext) -> str:
    """The phase in words; where the list lags, what the engine is."""
    picture, phase = picture_now(context), context.state.phase
    if phase in COLD and picture.steam.ahead:
        return "steam in her"
    if phase is Phase.PREPARATION and picture.fire.burning:
        return "fire lit"
    return phase.value


def put_again(context: EventContext) -> None:
    """The question was put once more."""
    needs.put(context, AHEAD, AHEAD)


def follow(context: EventContext) -> bool:
    """Nobody answered: the move is made as if it was asked for, and said; whether it was."""
    engine = context.config.engine
    calls = [measure(each.report, engine) or 0.0 for each in context.state.reports.of("pressure")]
    steam = picture_now(context).steam.ahead
    if not steam or sum(call > 0.0 for call in calls) < CALLS or context.state.watch.danger:
        return False
    context.say(walkthrough.steam_followed())
    acceptance.accept_silently(context, OVERTAKE)
    return True


def rests_after_all(context: EventContext) -> None:
    """A gauge called at rest in a cold list, with no fire told: what it showed before was none."""
    calls = [each for each in context.accepted if each.what == "pressure"]
    at_rest = bool(calls) and not measure(calls[-1], context.config.engine)
    if at_rest and context.state.phase in COLD:
        forget_the_call(context)


def forget_the_call(context: EventContext) -> None:
    """A gauge called once with steam, and no fire told, was no call: what it had overtaken is
    open again. With a fire, or called twice, it stands.
    """
    log, engine = context.state.reports, context.config.engine
    called = [each for each in log.of("pressure") if (measure(each.report, engine) or 0.0) > 0.0]
    lit = any(each.report.value in BURNING for each in log.of("fire"))
    if len(called) == 1 and not lit and len(picture_now(context).steam.witnesses) == 1:
        acceptance.retract(context, which=called[0])
        following.open_again(context)


def take_back(context: EventContext) -> bool:
    """ "Go back" just after the list has followed: it is as it was; whether that was meant."""
    last = context.state.reports[-1] if context.state.reports else None
    if last is None or last.report != OVERTAKE:
        return False
    acceptance.undo(context)
    return True


def was_taken_back(context: EventContext) -> None:
    """The move was undone: the question waits long."""
    needs.put(context, AHEAD, TAKEN_BACK, again=False)
