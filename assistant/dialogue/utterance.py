"""One utterance: what it is understood as, and what follows from it.

The decision itself is made by `understanding.decide`.
"""

from __future__ import annotations

from dataclasses import replace

from assistant.belief import estimate
from assistant.dialogue import (
    asking,
    engine_ahead,
    plate_check,
    plausibility,
    requests,
    spoken_help,
    wake_gate,
)
from assistant.dialogue.acceptance import accept, enter, retract, undo
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import boiler, hearing, needs, person, questions
from assistant.dialogue.state import STEP, Doubt
from assistant.grammar import notes
from assistant.messages import (
    READINGS,
    Answer,
    Correction,
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
from assistant.procedure.position import in_hand
from assistant.understanding.costs import is_danger, reports_in
from assistant.understanding.decide import Decision, decide
from assistant.understanding.gates import typed
from assistant.understanding.retries import excluding, fused, updated_evidence
from assistant.wording import readback, walkthrough

YES_WITHIN_S = 30.0  # a "correct" this soon after a read-back confirms it and changes nothing
QUERIES = frozenset(
    {"repeat", "why", "where", "how long", "how long water", "if feed", "is it expansion"}
    | {"when lift", "how much used", "open items", "next", "acknowledge", "hush", "help"}
    | {"troubles"}
)
MOST_TEXT_RATIO = 2  # a text of more than so many times the words is not that sentence
DENIED_FOR_S = 120.0  # after that the gauge may have moved there. Judgement
CORRECT_WITHIN_S = 300.0  # "wrong, sixty five" replaces a reading no older than this
RETRACT_WITHIN_S = 120.0  # a bare "wrong" retracts a reading only this soon after it


def hear(context: EventContext, heard: Heard) -> None:
    """Accept the most likely meaning of an utterance, or ask, or ignore it."""
    note_expected = context.state.question.note_expected
    note = heard.text if note_expected else notes.in_one_breath(heard.text)
    doubt = context.state.doubt
    doubted = reports_in(doubt.meaning)[0] if doubt and reports_in(doubt.meaning) else None
    before = context.state.hearing.evidence
    heard = replace(heard, alternatives=fused(heard, before, context.at))
    decision = decide(
        heard,
        context.state.hearing.expected,
        lambda report: plausibility.plausibility_of(context, report),
        lambda report: plausibility.objection_to(context, report),
        limits=lambda report: plausibility.off_gauge_reason(context, report),
        care=plausibility.care_now(context),
        mark_of=lambda report: plausibility.mark_of(context, report),
        doubted=doubted,
    )
    if wake_gate.ignores(context, heard, decision, _may_be_danger(context, decision)):
        return
    questions.expect_note(context, False)
    if note is not None and not _is_sentence(context, decision, heard):
        person.heard(context)
        context.record(NoteTaken(note, heard.clip))
        context.say(notes.note_reply(not typed(heard), heard.clip is not None), Urgency.ANSWER)
        return
    if not typed(heard):
        decision = _doubting_denied(context, decision)
    if decision.kind in ("confirm", "again"):
        evidence = updated_evidence(heard, heard.alternatives, before, context.at)
        hearing.keep_evidence(context, evidence)
    elif decision.kind == "accept" and decision.meaning and reports_in(decision.meaning):
        hearing.keep_evidence(context, None)
    match decision.kind:
        case "accept" if decision.meaning is not None:
            person.heard(context)
            hearing.understood(context)
            context.understood = True
            act(context, decision.meaning)
        case "confirm" if decision.meaning is not None:
            person.heard(context)
            hearing.understood(context)
            _ask_whether(context, decision)
        case "again":
            _ask_again(context, heard, decision)


def _is_sentence(context: EventContext, decision: Decision, heard: Heard) -> bool:
    """Whether the utterance is a sentence of the grammar and not the words of a note.

    It must be accepted and account for most of the words; of a danger a likely one is enough.
    """
    meaning = decision.meaning
    if meaning is None or meaning == Order("note"):
        return False
    if is_danger(meaning, lambda report: plausibility.mark_of(context, report)):
        return _may_be_danger(context, decision)
    words = next((a.words for a in heard.alternatives if a.meaning == meaning), heard.text)
    short = MOST_TEXT_RATIO * len(words.split()) < len(heard.text.split())
    return decision.kind == "accept" and not short


def _may_be_danger(context: EventContext, decision: Decision) -> bool:
    """Whether it is accepted as the report of a danger, or asked about as one."""
    if decision.meaning is None or decision.kind not in ("accept", "confirm"):
        return False
    return is_danger(decision.meaning, lambda report: plausibility.mark_of(context, report))


def _doubting_denied(context: EventContext, decision: Decision) -> Decision:
    """The decision, but a value that was just called wrong is always confirmed."""
    recent = context.at - context.state.hearing.denied_at <= DENIED_FOR_S
    if (
        decision.kind != "accept"
        or not recent
        or decision.meaning not in context.state.hearing.denied
    ):
        return decision
    return replace(decision, kind="confirm", reason="it was just called wrong", rival=None)


def _ask_whether(context: EventContext, decision: Decision) -> None:
    meaning = decision.meaning
    assert meaning is not None
    rival = decision.rival if reports_in(meaning) else None
    questions.doubt(context, Doubt(meaning, decision.reason, context.at, rival))
    for report in (*reports_in(meaning), *(reports_in(rival) if rival else ())):
        context.record(ReadingDoubted(report, decision.reason))
    objections = (plausibility.objection_to(context, r) for r in reports_in(meaning))
    objection = next(filter(None, objections), None)
    if objection:
        context.say(readback.confirm_because(meaning, objection, context.dial), Urgency.ANSWER)
    elif rival is not None:
        context.say(readback.which(meaning, rival, context.dial), Urgency.ANSWER)
    else:
        context.say(readback.confirm(meaning, context.dial), Urgency.ANSWER)


def _ask_again(context: EventContext, heard: Heard, decision: Decision) -> None:
    hearing.missed(context)
    reports = reports_in(decision.meaning) if decision.meaning else ()
    context.record(ReadingRefused(reports[0] if reports else None, decision.reason))
    if reports and plausibility.off_gauge_reason(context, reports[0]):
        context.say(readback.refused(reports[0], decision.reason, context.dial), Urgency.ANSWER)
    elif not heard.alternatives:
        spoken_help.not_followed(context)
    else:
        answering = context.state.hearing.expected.kind == "answer"
        context.say(readback.again(context.state.hearing.misses, answering), Urgency.ANSWER)


def act(context: EventContext, meaning: Meaning) -> None:
    """Act on a meaning that was accepted."""
    match meaning:
        case Report():
            accept(context, (meaning,))
        case Several(reports):
            accept(context, reports)
        case Correction(report):
            _correct(context, report)
        case Answer("yes"):
            _yes(context)
        case Answer():
            _no(context)
        case Order("undo"):
            questions.close_doubt(context)
            undo(context)
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
        context.say(readback.confirm(doubt.meaning, context.dial), Urgency.ANSWER)


def _yes(context: EventContext) -> None:
    doubt = context.state.doubt
    if doubt is not None and doubt.rival is not None:
        context.say(readback.which(doubt.meaning, doubt.rival, context.dial), Urgency.ANSWER)
        return
    if doubt is not None:
        questions.close_doubt(context)
        act(context, doubt.meaning)
        return
    if plate_check.has_floor(context):
        accept(context, (plate.RIGHT,))
        return
    last = context.state.reports[-1] if context.state.reports else None
    if last is not None and context.at - last.at <= YES_WITHIN_S:
        return
    step = in_hand(context.state.progress)
    if step is not None and (step.must or step.kind != "act"):
        context.say(
            readback.not_a_yes(step.asks, step.examples(), context.config.dial), Urgency.ANSWER
        )
    elif step is not None:
        requests.obey(context, Order("ready"))


def _no(context: EventContext) -> None:
    doubt = context.state.doubt
    if doubt is not None and doubt.meaning == engine_ahead.OVERTAKE:
        questions.close_doubt(context)
        asking.ask(context, "pressure")
        return
    if doubt is not None:
        reports = reports_in(doubt.meaning)
        questions.close_doubt(context)
        _ask_instead(context, reports[0].what if reports else None)
        evidence = excluding(context.state.hearing.evidence, doubt.meaning)
        hearing.keep_evidence(context, evidence)
        hearing.deny(context, reports)
        for report in reports:
            context.record(ReadingRefused(report, "contradicted"))
        context.say(
            readback.wrong_then(reports[0].what if reports else None)
            if reports
            else walkthrough.going_on(),
            Urgency.ANSWER,
        )
        return
    if plate_check.has_floor(context):
        accept(context, (plate.WRONG,))
        return
    if _denies_remedy(context):
        return
    last = context.state.reports[-1] if context.state.reports else None
    if last is not None and _just_denied(context, last):
        context.say(readback.wrong_then(context.state.hearing.denied[0].what), Urgency.ANSWER)
        return
    if last is None or context.at - last.at > RETRACT_WITHIN_S:
        context.say(readback.nothing_to_take_back(), Urgency.ANSWER)
        return
    retract(context)
    _ask_instead(context, last.report.what)
    hearing.deny(context, (last.report,))
    context.say(readback.taken_back(last.report, context.dial), Urgency.ANSWER)
    context.say(readback.wrong_then(last.report.what), Urgency.ANSWER)


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
    if step is None or not state.procedure.parked or remedies.STILL_THERE not in replies:
        return False
    asked = state.asked.get(STEP + step.id)
    if asked is not None and state.reports and state.reports[-1].at > asked.last_at:
        return False
    accept(context, (Report(step.asks, remedies.STILL_THERE),))
    return True


def _correct(context: EventContext, report: Report) -> None:
    """ "Wrong, sixty five": replaces the doubted value, or the last accepted one."""
    state = context.state
    last = state.latest(report.what)
    recent = last is not None and context.at - last.at <= CORRECT_WITHIN_S
    replaces_last = state.doubt is None and recent
    belief = state.belief
    if replaces_last and last is not None:
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
        _ask_whether(context, Decision("confirm", report, objection))
    else:
        accept(context, (report,))
