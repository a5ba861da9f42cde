"""One utterance: what it is understood as, and what follows from it.

The decision itself is made by `understanding.decide`.
"""

from __future__ import annotations

from assistant.belief import estimate
from assistant.dialogue import (
    asking,
    ending,
    engine_ahead,
    engine_answers,
    moment,
    names,
    picture_now,
    plate_check,
    plausibility,
    requests,
    spoken_help,
    valve_figure,
    wake_gate,
    withdrawal,
)
from assistant.dialogue.acceptance import accept, enter, retract, undo
from assistant.dialogue.agenda import told_in_words
from assistant.dialogue.conversation import Open
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import boiler, hearing, needs, person, questions
from assistant.dialogue.state import AHEAD, STEP, Doubt
from assistant.dialogue.what_is_open import open_now
from assistant.grammar import near_typing, notes
from assistant.grammar.wake_phrase import ANSWER, CALL
from assistant.messages import (
    READINGS,
    Answer,
    Correction,
    Decided,
    Heard,
    Meaning,
    NoteTaken,
    Order,
    ReadingDoubted,
    ReadingRefused,
    Report,
    Several,
    Urgency,
)
from assistant.picture.report_log import TimedReport
from assistant.procedure import plate, remedies
from assistant.procedure.checklist import Step
from assistant.procedure.position import current, in_hand
from assistant.understanding.decide import decide
from assistant.understanding.decision import Decision
from assistant.understanding.meanings import Mark, is_danger, reports_in
from assistant.understanding.retries import excluding
from assistant.wording import alarm_words, readback, walkthrough

YES_WITHIN_S = 30.0  # a "correct" this soon after a read-back confirms it and changes nothing
QUERIES = frozenset(
    {"repeat", "why", "where", "how long", "how long water", "if feed", "is it expansion"}
    | {"when lift", "how much used", "open items", "next", "acknowledge", "hush", "help"}
    | {"troubles", "how"}
)
CORRECT_WITHIN_S = 300.0  # "wrong, sixty five" replaces a reading no older than this
RETRACT_WITHIN_S = 120.0  # a bare "wrong" retracts a reading only this soon after it
# Heard, and not settled.
TOLD_HIGH, TOLD_FALLEN = Report("pressure told", "high"), Report("pressure told", "fallen")
WATER = frozenset({"water", "water told", "glass", "firebox", "emergency"})  # subjects
UNDO = Order("undo")
BARE_NO, BARE_YES = frozenset({"no", "nope"}), frozenset({"yes", "yeah", "yep", "aye"})
IT = frozenset({"it", "she", "they", "he", "there", "i"})  # "no it is not"


def hear(context: EventContext, heard: Heard) -> None:
    """Have an utterance decided, and do what was decided."""
    decision = decide(heard, moment.moment_of(context))
    context.record(Decided(decision.rule, decision.kind))
    if decision.kind == "ignore":
        return
    if decision.meaning == CALL:
        context.say(ANSWER, Urgency.ANSWER)
        wake_gate.answer_call(context)
        return
    if decision.spends_call:
        wake_gate.spend_call(context)
    questions.expect_note(context, False)
    hearing.keep_evidence(context, decision.evidence)
    if decision.kind == "again":
        _ask_again(context, heard, decision)
        return
    person.heard(context)
    if decision.note is not None:
        context.record(NoteTaken(decision.note, heard.clip))
        context.say(notes.note_reply(not heard.typed, heard.clip is not None), Urgency.ANSWER)
        valve_figure.noted(context)
        names.noted(context, decision.note)
        return
    assert decision.meaning is not None  # only a note and what is ignored have none
    if context.state.hearing.misses >= picture_now.MISSES and not heard.typed:
        context.say(walkthrough.hears_again(), Urgency.ANSWER)
    hearing.understood(context)
    if decision.kind == "confirm":
        _ask_whether(context, decision.meaning, decision.reason, decision.rival)
    else:
        context.understood = True
        act(context, decision.meaning)
        _ask_for_a_level_not_followed(context, heard)
        names.settle(context)


def _ask_for_a_level_not_followed(context: EventContext, heard: Heard) -> None:
    """A pressure was taken from a typed line that speaks of the water too, and no level was: it is
    asked for at once.
    """
    told = {report.what for report in context.accepted}
    of_the_level = heard.typed and near_typing.speaks_of_the_level(heard.text)
    if of_the_level and "pressure" in told and told.isdisjoint(WATER):
        asking.ask(context, "water")


def _without_what_is_certain(
    context: EventContext, meaning: Meaning, rival: Meaning | None
) -> Meaning:
    """Of several typed reports of which one is against the belief the others are taken at once."""
    typed = isinstance(context.event, Heard) and context.event.typed
    if not typed or rival is not None or not isinstance(meaning, Several):
        return meaning
    doubted = [r for r in meaning.reports if plausibility.objection_to(context, r)]
    certain = [r for r in meaning.reports if r not in doubted]
    if len(doubted) != 1 or not certain:
        return meaning
    context.understood = True
    act(context, Several(tuple(certain)) if len(certain) > 1 else certain[0])
    return doubted[0]


def _ask_whether(
    context: EventContext, meaning: Meaning, reason: str, rival: Meaning | None = None
) -> None:
    rival = rival if reports_in(meaning) else None
    meaning = _without_what_is_certain(context, meaning, rival)
    reports = reports_in(meaning)
    asked = context.state.doubt
    if asked is not None and asked.meaning == meaning and is_danger(meaning):
        context.understood = True
        questions.close_doubt(context)
        act(context, meaning)  # told twice: it is no mishearing
        return
    if any(plausibility.at_the_valve(context, report) for report in reports):
        hearing.leave_unsettled(context, TOLD_HIGH)
    elif any(plausibility.has_fallen(context, report) for report in reports):
        if told_in_words.fall_is_open(context):
            context.understood = True
            act(context, meaning)  # a second one lower still bears the first one out
            return
        hearing.leave_unsettled(context, TOLD_FALLEN)
    questions.doubt(context, Doubt(meaning, reason, context.at, rival))
    for report in (*reports_in(meaning), *reports_in(rival)):
        context.record(ReadingDoubted(report, reason))
    objections = (plausibility.objection_to(context, r) for r in reports_in(meaning))
    objection = next(filter(None, objections), None)
    if objection:
        context.say(readback.confirm_because(meaning, objection, context.dial), Urgency.ANSWER)
    elif rival is not None:
        context.say(readback.which(meaning, rival, context.dial), Urgency.ANSWER)
    else:
        context.say(ending.confirm(context, meaning), Urgency.ANSWER)


def _ask_again(context: EventContext, heard: Heard, decision: Decision) -> None:
    hearing.missed(context)
    reports = reports_in(decision.meaning)
    context.record(ReadingRefused(reports[0] if reports else None, decision.reason))
    if not heard.typed and context.state.hearing.misses == picture_now.MISSES:
        context.say(walkthrough.not_heard(), Urgency.ANSWER)  # once: our deafness, not his silence
        return
    if reports and plausibility.off_gauge_reason(context, reports[0]):
        context.say(readback.refused(reports[0], decision.reason, context.dial), Urgency.ANSWER)
    elif not heard.alternatives or (heard.typed and decision.meaning is None):
        spoken_help.not_followed(context, heard.text if heard.typed else "")
    else:
        answering = context.state.hearing.expected.kind == "answer"
        context.say(readback.again(context.state.hearing.misses, answering), Urgency.ANSWER)


def act(context: EventContext, meaning: Meaning) -> None:
    """Act on a meaning that was accepted."""
    match meaning:
        case Report(withdrawal.WITHDRAWN):
            withdrawal.withdraw(context, meaning)
        case Report():
            accept(context, (meaning,))
            valve_figure.follow(context)
            names.follow(context)
        case Several(reports):
            accept(context, reports)
        case Correction(Report(withdrawal.WITHDRAWN) as report):
            withdrawal.withdraw(context, report)
        case Correction(report):
            _correct(context, report)
        case Answer("yes"):
            _yes(context)
        case Answer():
            _no(context)
        case Order("undo") if withdrawal.is_asked(context) and context.state.doubt is not None:
            context.say(ending.confirm(context, context.state.doubt.meaning), Urgency.ANSWER)
        case Order("undo"):
            questions.close_doubt(context)
            _undo(context)
        case Order():
            _obey(context, meaning)


def _obey(context: EventContext, order: Order) -> None:
    """Obey an order. A query does not close an open confirmation, which is put again after it."""
    doubt = context.state.doubt
    context.order = order.name
    if doubt is not None and order.name not in QUERIES:
        questions.close_doubt(context)
    if doubt is not None and order.name == "why":
        context.say(walkthrough.why(doubt.reason), Urgency.ANSWER)
    elif doubt is None or order.name != "repeat":
        requests.obey(context, order)
    if doubt is not None and context.state.doubt is doubt:
        context.say(ending.confirm(context, doubt.meaning), Urgency.ANSWER)


def _yes(context: EventContext) -> None:
    doubt = context.state.doubt
    match open_now(context):
        case Open.WHICH if doubt is not None and doubt.rival is not None:
            context.say(readback.which(doubt.meaning, doubt.rival, context.dial), Urgency.ANSWER)
        case Open.CONFIRMATION | Open.END_ASKED if doubt is not None:
            questions.close_doubt(context)
            act(context, doubt.meaning)
        case _ if plate_check.has_floor(context):
            accept(context, (plate.RIGHT,))
        case _ if (report := engine_answers.report_of(context, yes=True)) is not None:
            accept(context, (report,))
        case _:
            _yes_to_the_list(context)


def _yes_to_the_list(context: EventContext) -> None:
    """Nothing waits for a yes: it confirms what was just read back, or answers the step."""
    last = context.state.reports[-1] if context.state.reports else None
    step = in_hand(context.state.progress)
    put = context.state.asked.get(STEP + step.id) if step is not None else None
    asked_since = put is not None and last is not None and put.last_at >= last.at
    to_a_check = bool(context.state.procedure.parked) and (asked_since or _cure_begun(context))
    if step is not None and asked_since and _is_question(step) and _bare(context, BARE_YES):
        to_a_check = True
    if last is not None and context.at - last.at <= YES_WITHIN_S and not to_a_check:
        return
    if step is None and _cure_begun(context):
        _say_what_you_see(context, current(context.state.progress))
    elif step is not None and (step.must or step.kind != "act"):
        _say_what_you_see(context, step)
    elif step is not None:
        requests.obey(context, Order("ready"))


def _say_what_you_see(context: EventContext, step: Step | None) -> None:
    """A bare yes or no says too little: the words that would answer the step."""
    if step is not None:
        text = readback.not_a_yes(step.asks, step.examples(), context.config.dial)
        context.say(text, Urgency.ANSWER)


def _no(context: EventContext) -> None:
    doubt = context.state.doubt
    match open_now(context):
        case Open.CONFIRMATION | Open.WHICH | Open.END_ASKED if doubt is not None:
            questions.close_doubt(context)
            _denied(context, doubt.meaning)
        case _ if plate_check.has_floor(context):
            accept(context, (plate.WRONG,))
        case _ if (report := engine_answers.report_of(context, yes=False)) is not None:
            accept(context, (report,))
        case _ if not _denies_remedy(context):
            _no_to_the_last(context)


def _denied(context: EventContext, meaning: Meaning) -> None:
    """What was read back is wrong: it is asked for again, and may not be taken again at once."""
    if meaning == engine_ahead.OVERTAKE:
        needs.answered(context, AHEAD)  # the gauge read again may show steam again
        engine_ahead.forget_the_call(context)
        asking.ask(context, "pressure")
        return
    reports = reports_in(meaning)
    if kept := withdrawal.grave_call_kept(meaning):
        context.say(alarm_words.acknowledged([kept]), Urgency.ANSWER)
        return
    _ask_instead(context, reports[0].what if reports else None)
    hearing.keep_evidence(context, excluding(context.state.hearing.evidence, meaning))
    hearing.deny(context, reports)
    for report in reports:
        context.record(ReadingRefused(report, "contradicted"))
    context.say(
        readback.wrong_then(reports[0].what) if reports else walkthrough.going_on(),
        Urgency.ANSWER,
    )


def _no_to_the_last(context: EventContext) -> None:
    """Nothing waits for a no: the last report is taken back, if it is fresh."""
    last = context.state.reports[-1] if context.state.reports else None
    if last is not None and _just_denied(context, last):
        context.say(readback.wrong_then(context.state.hearing.denied[0].what), Urgency.ANSWER)
        return
    if last is None or context.at - last.at > RETRACT_WITHIN_S:
        context.say(readback.nothing_to_take_back(), Urgency.ANSWER)
        return
    if (grave := withdrawal.of_grave_call(context, last.report)) is not None:
        withdrawal.withdraw(context, grave)
        return
    if (step := _asked_after(context, last)) is not None:
        _say_what_you_see(context, step)
        return
    if plausibility.pressed_with(context, last):
        questions.doubt(context, Doubt(UNDO, plausibility.PRESSED_OTHERWISE, context.at))
        context.say(ending.confirm(context, UNDO), Urgency.ANSWER)
        return
    undo(context)
    _ask_what_then(context, last.report)


def _asked_after(context: EventContext, last: TimedReport) -> Step | None:
    """The step that was put with the read-back of the last report, or after it, and is open: a bare
    "no" may be the answer to that, and takes nothing back.
    """
    if not _bare(context, BARE_NO):
        return None  # "wrong" is of what was read back
    step = in_hand(context.state.progress)
    put = None if step is None else context.state.asked.get(STEP + step.id)
    asks = step is not None and _is_question(step) and step.asks != last.report.what
    return step if asks and put is not None and put.last_at >= last.at else None


def _is_question(step: Step) -> bool:
    """Whether it is put as a question, to which a bare yes or no may be the answer."""
    return step.kind == "state" or step.say.rstrip().endswith("?")


def _bare(context: EventContext, words: frozenset[str]) -> bool:
    """Whether one of these words alone was said, or before "it is" and its like."""
    event = context.event
    said = event.text.strip(" .!").lower().split() if isinstance(event, Heard) else []
    return bool(said) and said[0].rstrip(",") in words and (len(said) == 1 or said[1] in IT)


def _undo(context: EventContext) -> None:
    """ "Take that back": the last report, whenever it was; a grave call is asked about first, and a
    reading is asked for again.
    """
    last = context.state.reports[-1].report if context.state.reports else None
    if last is not None and (grave := withdrawal.of_grave_call(context, last)) is not None:
        withdrawal.withdraw(context, grave)
        return
    undo(context)
    if last is not None and last.what in READINGS:
        _ask_what_then(context, last)


def _ask_what_then(context: EventContext, wrong: Report) -> None:
    """What it is instead of a report that was taken back; a low level counts as told low."""
    if plausibility.mark_of(context, wrong) is Mark.LOW:
        hearing.leave_unsettled(context, hearing.TOLD_LOW)
    _ask_instead(context, wrong.what)
    hearing.deny(context, (wrong,))
    context.say(readback.wrong_then(wrong.what), Urgency.ANSWER)


def _ask_instead(context: EventContext, gauge: str | None) -> None:
    """What was called wrong is asked for again, where it is a report."""
    if gauge in READINGS:
        needs.put(context, gauge, gauge, again=False)


def _just_denied(context: EventContext, last: TimedReport) -> bool:
    """Whether a report was just called wrong and nothing was said since: "no" means that one."""
    state = context.state
    fresh = context.at - state.hearing.denied_at <= RETRACT_WITHIN_S
    return bool(state.hearing.denied) and fresh and last.at <= state.hearing.denied_at


def _denies_remedy(context: EventContext) -> bool:
    """A bare "no" to the check of a remedy, put after everything that was reported: still there.

    A bare "yes" ends no remedy: that it works again is said in its own words.
    """
    state, step = context.state, in_hand(context.state.progress)
    replies = {reply.state for reply in step.replies} if step is not None else set()
    if remedies.STILL_THERE not in replies and _cure_begun(context):
        _say_what_you_see(context, step or current(state.progress))
        return True
    if step is None or not state.procedure.parked or remedies.STILL_THERE not in replies:
        return False
    asked = state.asked.get(STEP + step.id)
    if asked is not None and state.reports and state.reports[-1].at > asked.last_at:
        return False
    accept(context, (Report(step.asks, remedies.STILL_THERE),))
    return True


def _cure_begun(context: EventContext) -> bool:
    """Whether a trouble was called last, its first acts told: yes and no belong to them."""
    state = context.state
    if not state.procedure.parked or not state.reports:
        return False
    called = state.reports[-1].report.what == remedies.REMEDY
    return called and state.progress.checklist.name != remedies.TAKING_OVER


def _correct(context: EventContext, report: Report) -> None:
    """ "Wrong, sixty five": replaces the doubted value, or the last accepted one."""
    state = context.state
    last = state.latest(report.what)
    recent = last is not None and context.at - last.at <= CORRECT_WITHIN_S
    replaces_last = state.doubt is None and recent
    belief = state.belief
    if replaces_last and last is not None:
        if (grave := withdrawal.of_grave_call(context, last.report)) is not None:
            withdrawal.withdraw(context, grave)
            return
        belief = estimate.retracted(belief, boiler.as_feed(last.report), last.at)
    objection = plausibility.objection_to(context, report, belief)
    objection = objection or plausibility.off_gauge_reason(context, report)
    if state.doubt is not None:
        for old in reports_in(state.doubt.meaning):
            context.record(ReadingRefused(old, "contradicted"))
        questions.close_doubt(context)
    elif replaces_last:
        last = retract(context, instead=None if objection else report, which=last)
        if not objection:
            enter(context, report, last.at)
            context.say(readback.corrected(report, context.config.dial), Urgency.ANSWER)
            return
    if objection:
        _ask_whether(context, report, objection)
    else:
        accept(context, (report,))
