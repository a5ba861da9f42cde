"""Which of the needs are put in this event. Decides; speaks nothing.

A need that was put waits out its patience and does not hold the floor: until then others may speak,
in their order. One question at a time; what is graver interrupts.
"""

from __future__ import annotations

from assistant.dialogue.agenda.need import Need, Rank, again_after
from assistant.dialogue.conversation import Loud, loud_now
from assistant.dialogue.event_context import EventContext
from assistant.messages import READINGS, Grade, Tick

ANSWER_S = 20.0  # time to answer: before that no further question of a like rank. Judgement
REPEATED_S = 10.0  # after an alarm that was put before a reading may be asked for. Judgement
WORK_S = 60.0  # time to do a thing before the list goes on beside it. Judgement
RESTS = {Rank.DANGER: 30.0, Rank.DUE: 60.0}  # all needs of the rank together no oftener [s]
ACTS = 2  # in one utterance
JUST_ASKED_S = 30.0  # a question that was just put is not overdue
WATER_WAITS_S = 60.0  # however many dangers stand, water not read is said so often. Judgement
GRAVE = (Rank.DANGER, Rank.STOP)


def chosen(context: EventContext, needs: list[Need]) -> list[Need]:
    """What is put now: every grave need that is new, else what fits in one utterance."""
    due = [need for need in needs if _is_due(context, need, needs)]
    grave = [need for need in due if need.alarm is not None and need.rank in GRAVE]
    first = [need for need in needs if need.at_once][:1]
    new = [need for need in grave if _is_new(context, need, grown=not first)]
    if new or first:
        told = any(need.rank is Rank.DANGER for need in new)
        opposed = [n for n in grave if n.rank is Rank.DANGER and n.provoked and not told]
        return [*opposed, *new, *(need for need in first if _fits_beside(need, new))]
    if grave:
        return [min(grave, key=lambda need: _turn(context, need))]
    return _one_utterance(due)


def _is_new(context: EventContext, need: Need, grown: bool) -> bool:
    """Whether it was not put yet, or (grown) not as the danger that it is now.

    An act that is to be stopped at once is said before a danger that only grew by it.
    """
    asked = context.state.asked.get(need.name)
    if asked is None:
        return True
    return grown and need.rank is Rank.DANGER and _grown_louder(need, asked.what)


def _one_utterance(due: list[Need]) -> list[Need]:
    """Of what is due two acts and one question at most, and beside acts that are due one other.

    Alarms are said first, and a question last: it is what he answers.
    """
    taken: list[Need] = []
    for need in due:
        same = [other for other in taken if other.asks == need.asks]
        others = [other for other in taken if other.rank is not Rank.DUE]
        beside = need.rank is Rank.DUE or not others
        if need.step is not None and any(other.gauge for other in taken):
            continue  # the reading that is asked for comes before the next work
        if beside and len(same) < (1 if need.asks else ACTS):
            taken.append(need)
    return sorted(taken, key=lambda need: (need.alarm is None, need.asks))


def _fits_beside(first: Need, new: list[Need]) -> bool:
    """Whether the first act of a trouble is spoken with what is new, which may say it itself."""
    return not any(need.rank is Rank.DANGER or _of_the_trouble(need) for need in new)


def _of_the_trouble(need: Need) -> bool:
    return need.alarm is not None and need.alarm.rule.kind == "spoken"


def _turn(context: EventContext, need: Need) -> tuple[int, bool, float]:
    """Among what is grave the one longest unsaid; water that waits goes before other dangers."""
    last_at = context.state.asked[need.name].last_at
    waits = need.gauge == "water" and context.elapsed(last_at, WATER_WAITS_S)
    return need.rank, not waits, last_at


def _is_due(context: EventContext, need: Need, needs: list[Need]) -> bool:
    asked = context.state.asked.get(need.name)
    if asked is None or _grown_louder(need, asked.what):
        return _may_begin(context, need, needs)
    if need.provoked:
        return True
    if need.alarm is None and loud_now(context) is Loud.QUIET:
        return False
    if not _may_repeat(context, need.rank):
        return False
    if not context.elapsed(asked.last_at, again_after(need, asked)):
        return False
    rest_s = RESTS.get(need.rank)
    return rest_s is None or _rested(context, needs, need.rank, rest_s)


def _grown_louder(need: Need, put_as: str) -> bool:
    """Whether the reading was asked for in a lesser grade when it was last put."""
    return need.alarm is not None and bool(need.gauge) and put_as != need.alarm.name


def _may_repeat(context: EventContext, rank: Rank) -> bool:
    """Only time repeats, and only where nothing else is said; a danger also before that."""
    return isinstance(context.event, Tick) and (rank is Rank.DANGER or not context.spoke)


def _rested(context: EventContext, needs: list[Need], rank: Rank, seconds: float) -> bool:
    """Whether no need of this rank was put for so long."""
    names = [need.name for need in needs if need.rank is rank]
    put = [context.state.asked[name] for name in names if name in context.state.asked]
    return all(context.elapsed(asked.last_at, seconds) for asked in put)


def _may_begin(context: EventContext, need: Need, needs: list[Need]) -> bool:
    """Whether a need that was not put yet may be put now."""
    if need.alarm is not None:
        return not need.gauge or not _just_asked(context, need)
    if not context.understood and loud_now(context) is Loud.QUIET:
        return False
    if need.gauge:
        return _reading_may_begin(context, need, needs)
    if need.rank in (Rank.STOP, Rank.DUE, Rank.REMEDY) and context.accepted:
        return True  # the report that made it due was just made: he listens
    wait_s = ANSWER_S if need.rank <= Rank.DUE else WORK_S
    return _floor_free(context, need, needs, wait_s)


def _reading_may_begin(context: EventContext, need: Need, needs: list[Need]) -> bool:
    """With a pressure just called, the water in the same breath; else where nothing is said."""
    if need.provoked:
        return True  # the valve moves now: the gauge is read in this second
    if any(report.what == "pressure" for report in context.accepted):
        return context.state.doubt is None  # a question of yes or no was put: one at a time
    return _may_repeat(context, need.rank) and _floor_free(context, need, needs, ANSWER_S)


def _floor_free(context: EventContext, need: Need, needs: list[Need], wait_s: float) -> bool:
    """Whether every open question of its rank or a graver one has had its time.

    An alarm that is only put again takes less of it from a reading: two that take turns would else
    never let it begin.
    """
    for other in (other for other in needs if other.rank <= need.rank):
        asked = context.state.asked.get(other.name)
        again = bool(need.gauge) and other.alarm is not None and asked and asked.times > 1
        wait = min(REPEATED_S, wait_s) if again else wait_s
        if asked is not None and not context.elapsed(asked.last_at, wait):
            return False
    return not _asked_anew(context)


def _asked_anew(context: EventContext) -> bool:
    """Whether a reading was called wrong a moment ago, and is asked for again."""
    wrong = {report.what for report in context.state.hearing.denied} & set(READINGS)
    put = (context.state.asked.get(gauge) for gauge in wrong)
    return any(asked and not context.elapsed(asked.last_at, ANSWER_S) for asked in put)


def _just_asked(context: EventContext, need: Need) -> bool:
    """Whether the same reading was asked for a moment ago: it is not overdue yet."""
    asked = context.state.asked.get(need.name)
    if asked is None or need.alarm is None or need.alarm.rule.grade is Grade.DANGER:
        return False
    return not context.elapsed(asked.last_at, JUST_ASKED_S)
