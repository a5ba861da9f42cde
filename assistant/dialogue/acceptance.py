"""Accepting reports and retracting them: in the journal, in the belief, and read back."""

from __future__ import annotations

from assistant.alarms.water_rules import hot
from assistant.dialogue import refused_moves
from assistant.dialogue.agenda import told_in_words, water_forbids
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import boiler, hearing, log, needs, questions, work
from assistant.dialogue.picture_now import picture_now
from assistant.dialogue.state import SessionState
from assistant.messages import (
    COAL_PUT_ON,
    LOOKED_AT,
    WATER_PUT_IN,
    Grade,
    ReadingAccepted,
    ReadingCorrected,
    ReadingRefused,
    Report,
    Urgency,
)
from assistant.picture.glass import BROKEN
from assistant.picture.heat import MOVING
from assistant.picture.lost_water import (
    LEAKING,
    LEAKS,
    WEEPING,
    is_looked_at,
    lost_since,
    may_be_examined,
)
from assistant.picture.person import NOT_KEPT
from assistant.picture.report_log import TimedReport
from assistant.procedure import remedies
from assistant.procedure.emergency import EMERGENCY, OVER
from assistant.procedure.phases import MOVE
from assistant.procedure.position import Progress
from assistant.understanding.meanings import reports_in
from assistant.wording import alarm_words, readback, walkthrough

TIGHTENED = Report("joint", "tightened")
ALL_CLEAR = Report(EMERGENCY, OVER)
DRAINED = Report("frost", "drained")
COAL = Report("fire", "coal")  # what a count of coal put on is as well
IN_STEAM = {
    Report("safety valve", "stuck"): Report(EMERGENCY, "safety valve is stuck"),
    Report("gauge cock", "shut"): Report(remedies.REMEDY, remedies.GAUGE_TROUBLE),
}
"""Answers of a list that are no answers with fire or steam in her, and what they are instead."""


def accept(context: EventContext, reports: tuple[Report, ...]) -> None:
    """Accept reports: record them, update the belief, read them back."""
    reports = (*_borne_out(context, reports), *reports)
    reports = _but_drained_hot(context, _but_looked_at_hot(context, reports))
    reports = tuple(_with_heat_in_her(context, report) for report in reports)
    for report in reports:
        if report.what == COAL_PUT_ON:
            accept_silently(context, COAL)  # before its count, which is what is said of it
        accept_silently(context, report)
    of_leaks = {r: words for r in reports if (words := _of_a_leak(context, r))}
    # named by the engine's own dial: another unit is always said, it may have been misheard
    said = tuple(
        report
        for report in reports
        if report != ALL_CLEAR  # said once the watch has looked: what stands still
        and not _raises_its_alarm(context, report)
        and not _refused(context, report)
        and not water_forbids.opposed(context, report)
        and report not in of_leaks
    )
    for words in dict.fromkeys(of_leaks.values()):
        context.say(words, Urgency.ANSWER)
    if said:
        context.say(readback.read_back_several(said, context.config.dial), Urgency.ANSWER)
    if any(r.what == WATER_PUT_IN for r in said) and water_forbids.level_unknown(context):
        context.say(walkthrough.into_the_tank_only(), Urgency.ANSWER)
    _ask_by_whom(context, reports)


def _but_looked_at_hot(context: EventContext, reports: tuple[Report, ...]) -> tuple[Report, ...]:
    """Without the word that she was looked at while that cannot be: only that it cannot is said."""
    if not any(map(is_looked_at, reports)):
        return reports
    lost = picture_now(context).water.lost is not None
    log, warm = context.state.reports, context.state.procedure.warm_since
    if not lost or may_be_examined(log, context.config.engine, context.at, warm):
        return reports
    kept = tuple(report for report in reports if not is_looked_at(report))
    for report in reports:
        if report not in kept:
            context.record(ReadingRefused(report, "not cold"))
            context.say(walkthrough.not_examined_hot(), Urgency.ANSWER)
    return kept


def _but_drained_hot(context: EventContext, reports: tuple[Report, ...]) -> tuple[Report, ...]:
    """Without the word that she was drained while the gauge shows steam: only that is said."""
    if DRAINED not in reports or not picture_now(context).gauge.moved:
        return reports
    context.record(ReadingRefused(DRAINED, "steam in her"))
    context.say(walkthrough.not_drained_hot(), Urgency.ANSWER)
    return tuple(report for report in reports if report != DRAINED)


def _with_heat_in_her(context: EventContext, report: Report) -> Report:
    """What a report is with fire or steam in her; the list that asks for it takes its answer."""
    meant = IN_STEAM.get(report)
    asked = meant == Report(remedies.REMEDY, context.state.progress.checklist.name)
    return report if meant is None or asked or not hot(picture_now(context)) else meant


def _borne_out(context: EventContext, reports: tuple[Report, ...]) -> tuple[Report, ...]:
    """The pressure that is being asked about, where the valve is told to move meanwhile: it bears
    the gauge out, or contradicts it, which the watch tells.
    """
    doubt = context.state.doubt
    moves = any(r.what == "valve" and r.value in MOVING for r in reports)
    if doubt is None or not moves or any(r.what == "pressure" for r in reports):
        return ()
    asked = reports_in(doubt.meaning)
    return asked if len(asked) == 1 and asked[0].what == "pressure" else ()


def accept_silently(context: EventContext, report: Report) -> None:
    """Accept a report that is read back in other words, or not at all."""
    context.record(ReadingAccepted(report))
    enter(context, report, context.at)


def _ask_by_whom(context: EventContext, reports: tuple[Report, ...]) -> None:
    """Who looked at a boiler that lost its water is kept, as a note with its sound."""
    lost = lost_since(context.before.reports, context.config.engine) is not None
    if lost and Report("boiler", LOOKED_AT) in reports:
        questions.expect_note(context, True)
        context.say(walkthrough.by_whom(), Urgency.ANSWER)


def _raises_its_alarm(context: EventContext, report: Report) -> bool:
    """Whether an alarm of this event names it: then it is not said a second time."""
    if report in (WEEPING, LEAKING):
        lost = lost_since(context.before.reports, context.config.engine)
        return lost is None and lost_since(context.state.reports, context.config.engine) is not None
    if report == NOT_KEPT:
        seen = picture_now(context)
        return hot(seen) and seen.person.unwatched_since == context.at
    if report.what != EMERGENCY or report.value == OVER:
        return False
    return report.value not in {alarm.name for alarm in context.state.watch.alarms}


def _of_a_leak(context: EventContext, report: Report) -> str:
    """The words in place of a read-back: a joint is tightened under pressure, or leaks still."""
    if report not in (TIGHTENED, LEAKING):
        return ""
    seen = picture_now(context)
    if seen.steam.value != "steam":
        return ""
    if report == TIGHTENED:
        return walkthrough.never_tighten()
    lost = seen.water.lost
    again = lost is not None and lost.by == LEAKS and lost.at < context.at
    return walkthrough.leaks_still(seen.fire.out) if again else ""


def _refused(context: EventContext, report: Report) -> bool:
    """Whether it is a move that will not be made now: only why not is said."""
    if report.what != MOVE:
        return False
    against = bool(refused_moves.refusal(context, report))
    return against or refused_moves.wants_water(context, report)


def answer_all_clear(context: EventContext) -> None:
    """After the watch has looked: the danger is over, or what no word ends stands still."""
    if ALL_CLEAR not in context.accepted:
        return
    rules = (alarm.rule for alarm in context.state.watch.alarms)
    standing = [rule.name for rule in rules if rule.grade is Grade.DANGER]
    if standing:
        context.say(alarm_words.acknowledged(standing), Urgency.ANSWER)
        if BROKEN in standing:
            context.say(walkthrough.until_a_new_glass(), Urgency.ANSWER)
    elif lost_since(context.state.reports, context.config.engine) is not None:
        context.say(walkthrough.once_looked_at(), Urgency.ANSWER)
    else:
        context.say(readback.read_back(ALL_CLEAR, context.config.dial), Urgency.ANSWER)


def enter(context: EventContext, report: Report, at: float) -> None:
    """Add a report made at a time to the log and the belief; what it answers is closed.

    No water in sight, asked about and answered by something else, counts as told low; a danger
    asked about by name is not answered by something else.
    """
    timed = TimedReport(report, at)
    if report.what != "water" and told_in_words.asks_whether_water_is_gone(context):
        hearing.leave_unsettled(context, hearing.TOLD_LOW)
    context.or_none(lambda: boiler.enter(context, report, at))  # else the report would be lost
    work.remember_before(context, timed)
    log.add(context, timed)
    if report.what == EMERGENCY or not told_in_words.asks_of_a_call(context):
        questions.close_doubt(context)
    hearing.understood(context)
    hearing.allow(context, report.what)
    needs.answered(context, report.what)
    context.accepted.append(report)


def retract(
    context: EventContext, instead: Report | None = None, which: TimedReport | None = None
) -> TimedReport:
    """Retract the last report, or `which`; the journal keeps both. Returns the retracted one.

    What the list made of it is undone when nothing was said since.
    """
    state = context.state
    last = which or state.reports[-1]
    newest = last is state.reports[-1]
    earlier = progress_before(state, last)
    same_list = newest and earlier.checklist == state.progress.checklist
    boiler.retract(context, last.report, last.at)
    work.come_to(context, earlier if same_list else state.progress)
    work.forget_before(context, last)
    log.remove(context, last)
    if newest and not (same_list and earlier.done == state.progress.done):
        needs.put_steps_again(context)  # it had answered something, or another list is back
    context.record(ReadingCorrected(last.report, instead))
    context.retracted.append(last.report.what)
    return last


def progress_before(state: SessionState, timed: TimedReport) -> Progress:
    """How far the list had come just before a report."""
    return next(progress for report, progress in state.procedure.before if report is timed)


def undo(context: EventContext) -> None:
    """Retract the last report, and say so."""
    if not context.state.reports:
        context.say(readback.nothing_to_take_back(), Urgency.ANSWER)
        return
    last = retract(context)
    if last.report.what == COAL_PUT_ON and context.state.reports[-1:] == (
        TimedReport(COAL, last.at),
    ):
        retract(context)
    context.say(readback.taken_back(last.report, context.dial), Urgency.ANSWER)
