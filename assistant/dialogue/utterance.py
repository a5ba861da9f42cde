"""One utterance: what it is taken for, and what that does to what we believe.

The decision itself is talk's (`readback.decide`), the plausibility the boiler's.
"""

from __future__ import annotations

from dataclasses import replace

from assistant.belief import estimate
from assistant.dialogue import requests, wake_gate
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.state import Doubt, ReportLog, TimedReport
from assistant.grammar import notes
from assistant.messages import (
    Answer,
    Correction,
    Heard,
    Meaning,
    NoteTaken,
    Order,
    ReadingAccepted,
    ReadingCorrected,
    ReadingDoubted,
    ReadingRefused,
    Report,
    Several,
    Urgency,
)
from assistant.procedure.position import in_hand
from assistant.procedure.scale import measure
from assistant.understanding.costs import Care, Mark, is_danger, reports_in
from assistant.understanding.decide import Decision, decide
from assistant.understanding.gates import typed
from assistant.understanding.retries import excluding, gathered, weighed
from assistant.wording import readback, walkthrough

NEAR_A_MARK = 0.08  # of the glass; common practice, no source
YES_WITHIN_S = 30.0  # a "correct" this soon after a read-back is about it, and changes nothing
MERE_QUESTIONS = frozenset(
    {"repeat", "why", "where", "how long", "how long water", "if feed", "is it expansion"}
    | {"when lift", "how much used", "open items", "next", "acknowledge", "hush"}
)
SHORT_OF = 2  # a text of more than this many times the words was no such sentence
DENIED_FOR_S = 120.0  # judgement: after that the gauge may have moved there
CORRECT_WITHIN_S = 300.0  # "wrong, sixty five" is in place of a reading no older than this
TAKE_BACK_WITHIN_S = 120.0  # a bare "wrong" takes back a reading only this soon after it


def hear(context: EventContext, heard: Heard) -> None:
    """Take an utterance for what it most likely is, or ask, or pass it over."""
    noting = context.state.noting
    note = heard.text if noting else notes.in_one_breath(heard.text)
    doubt = context.state.doubt
    doubted = reports_in(doubt.meaning)[0] if doubt and reports_in(doubt.meaning) else None
    before = context.state.evidence
    heard = replace(heard, alternatives=weighed(heard, before, context.at))
    decision = decide(
        heard,
        context.state.expected,
        lambda report: _chance(context, report),
        lambda report: _objection(context, report),
        limits=lambda report: _off_gauge(context, report),
        care=_care(context),
        mark_of=lambda report: _mark_of(context, report),
        doubted=doubted,
    )
    if wake_gate.ignores(context, heard, decision, _is_of_danger(context, decision)):
        return
    context.update(noting=False)
    if note is not None and not _is_ours(context, decision, heard):
        context.update(heard_at=context.at)
        context.fact(NoteTaken(note, heard.clip))
        said = notes.taken(not typed(heard), heard.clip is not None)
        context.say(said, Urgency.ANSWER)
        return
    if not typed(heard):
        decision = _not_what_was_denied(context, decision)
    if decision.kind in ("confirm", "again"):
        context.update(evidence=gathered(heard, heard.alternatives, before, context.at))
    elif decision.kind == "accept" and decision.meaning and reports_in(decision.meaning):
        context.update(evidence=None)
    match decision.kind:
        case "accept" if decision.meaning is not None:
            context.update(heard_at=context.at, misses=0)
            context.understood = True
            act(context, decision.meaning)
        case "confirm" if decision.meaning is not None:
            context.update(heard_at=context.at, misses=0)
            _ask_whether(context, decision)
        case "again":
            _ask_again(context, heard, decision)


def _is_ours(context: EventContext, decision: Decision, heard: Heard) -> bool:
    """Surely one of our sentences, and not the one that only asks for a note, nor a short one in
    the place of many words; a danger that is merely likely counts too: no note may swallow it."""
    meaning = decision.meaning
    if meaning is None or meaning == Order("note"):
        return False
    if is_danger(meaning, lambda report: _mark_of(context, report)):
        return _is_of_danger(context, decision)
    words = next((a.words for a in heard.alternatives if a.meaning == meaning), heard.text)
    short = SHORT_OF * len(words.split()) < len(heard.text.split())
    return decision.kind == "accept" and not short


def _is_of_danger(context: EventContext, decision: Decision) -> bool:
    """Whether it is taken for the report of a danger, or asked about as one."""
    if decision.meaning is None or decision.kind not in ("accept", "confirm"):
        return False
    return is_danger(decision.meaning, lambda report: _mark_of(context, report))


def _not_what_was_denied(context: EventContext, decision: Decision) -> Decision:
    """A value that was just called wrong is asked about, however surely it is heard again."""
    recent = context.at - context.state.denied_at <= DENIED_FOR_S
    if decision.kind != "accept" or not recent or decision.meaning not in context.state.denied:
        return decision
    return replace(decision, kind="confirm", reason="it was just called wrong", rival=None)


def _chance(context: EventContext, report: Report) -> float | None:
    """How well the boiler could be there; None, too, when the sum fails."""
    try:
        return estimate.chance(context.state.belief, report)
    except Exception as bug:
        context.failed(bug)
        return None


def _objection(
    context: EventContext, report: Report, belief: estimate.Belief | None = None
) -> str | None:
    """Why the boiler cannot be there; None, too, when the sum fails."""
    try:
        return estimate.objection(belief or context.state.belief, report)
    except Exception as bug:
        context.failed(bug)
        return None


def _felt(report: Report) -> Report:
    """The report as the boiler feels it: the pump's bypass shut is a feed, open it is none."""
    if report.what != "bypass":
        return report
    return Report("feed", "on" if report.value == "shut" else "off")


def _off_gauge(context: EventContext, report: Report) -> str | None:
    """A reason if no gauge of this engine can show the value."""
    engine = context.parts.engine
    if isinstance(report.value, str):
        return None
    value = measure(report, engine)
    if value is None:
        return None
    if report.what == "pressure" and value > engine.dial_top_gauge_pa * 1.001:
        return readback.off_gauge(_dial_top(context, report), report.unit or "psi")
    if report.what in ("water", "tank") and not -1e-6 <= value <= 1.0 + 1e-6:
        return readback.not_on_scale(report.what)
    return None


def _dial_top(context: EventContext, report: Report) -> float:
    """The end of the dial in the unit that was spoken."""
    per_unit = measure(Report("pressure", 1.0, report.unit), context.parts.engine) or 1.0
    return float(round(context.parts.engine.dial_top_gauge_pa / per_unit))


def _care(context: EventContext) -> Care:
    step = in_hand(context.state.progress)
    if step is not None and step.must:
        return Care.HOLD
    water = context.state.latest("water")
    return Care.MARK if water and _mark_of(context, water.report) else Care.USUAL


def _mark_of(context: EventContext, report: Report) -> Mark | None:
    """Where a reported height of the water stands to the engine's marks."""
    level = measure(report, context.parts.engine) if report.what == "water" else None
    if level is None:
        return None
    glass = context.parts.engine.glass
    if level <= glass.lower_mark + 1e-6:
        return Mark.LOW
    near = min(abs(level - mark) for mark in (glass.lower_mark, glass.upper_mark)) < NEAR_A_MARK
    return Mark.NEAR if near else None


def _ask_whether(context: EventContext, decision: Decision) -> None:
    meaning = decision.meaning
    assert meaning is not None
    rival = decision.rival if reports_in(meaning) else None
    context.update(doubt=Doubt(meaning, decision.reason, context.at, rival))
    for report in (*reports_in(meaning), *(reports_in(rival) if rival else ())):
        context.fact(ReadingDoubted(report, decision.reason))
    objection = next(filter(None, (_objection(context, r) for r in reports_in(meaning))), None)
    if objection:
        context.say(
            readback.confirm_because(meaning, objection, context.state.dial), Urgency.ANSWER
        )
    elif rival is not None:
        context.say(readback.which(meaning, rival, context.state.dial), Urgency.ANSWER)
    else:
        context.say(readback.confirm(meaning, context.state.dial), Urgency.ANSWER)


def _ask_again(context: EventContext, heard: Heard, decision: Decision) -> None:
    context.update(misses=context.state.misses + 1)
    reports = reports_in(decision.meaning) if decision.meaning else ()
    context.fact(ReadingRefused(reports[0] if reports else None, decision.reason))
    if reports and _off_gauge(context, reports[0]):
        context.say(
            readback.refused(reports[0], decision.reason, context.state.dial), Urgency.ANSWER
        )
    elif not heard.alternatives:
        step = in_hand(context.state.progress)
        answers = step.examples() if step else ()
        context.say(readback.nonsense(_about(context), answers), Urgency.ANSWER)
    else:
        answering = context.state.expected.kind == "answer"
        context.say(readback.again(context.state.misses, answering), Urgency.ANSWER)


def _about(context: EventContext) -> str | None:
    kind = context.state.expected.kind
    return kind if kind in ("pressure", "water", "tank") else None


def act(context: EventContext, meaning: Meaning) -> None:
    """Do what a meaning asks, now that it is believed."""
    match meaning:
        case Report():
            take(context, (meaning,))
        case Several(reports):
            take(context, reports)
        case Correction(report):
            _correct(context, report)
        case Answer("yes"):
            _yes(context)
        case Answer():
            _no(context)
        case Order("undo"):
            context.update(doubt=None)
            undo(context)
        case Order():
            _obey(context, meaning)


def _obey(context: EventContext, order: Order) -> None:
    """An order; a mere question leaves what is in doubt in doubt, and it is asked once more."""
    doubt = context.state.doubt
    context.order = order.name
    if doubt is not None and order.name not in MERE_QUESTIONS:
        context.update(doubt=None)
    if doubt is not None and order.name == "why":
        context.say(walkthrough.why(doubt.reason), Urgency.ANSWER)
    elif doubt is None or order.name != "repeat":
        requests.do(context, order)
    if doubt is not None and context.state.doubt is doubt:
        context.say(readback.confirm(doubt.meaning, context.state.dial), Urgency.ANSWER)


def take(context: EventContext, reports: tuple[Report, ...]) -> None:
    """Reports that stand: into the book, into the belief, said back."""
    for report in reports:
        context.fact(ReadingAccepted(report))
        _let_stand(context, report, context.at)
    # named by the engine's own dial: another unit is always said, it may have been misheard
    context.say(readback.read_back_several(reports, context.parts.dial), Urgency.ANSWER)


def _let_stand(context: EventContext, report: Report, at: float) -> None:
    before = context.state
    context.update(
        belief=estimate.update(before.belief, _felt(report), at),
        seen=before.seen.and_one(TimedReport(report, at, before.progress)),
        doubt=None,
        misses=0,
        denied=tuple(r for r in before.denied if r.what != report.what),
        asking=None if before.asking == report.what else before.asking,
        dial=(report.unit if report.what == "pressure" else None) or before.dial,
    )
    context.accepted.append(report)


def _yes(context: EventContext) -> None:
    doubt = context.state.doubt
    if doubt is not None and doubt.rival is not None:
        context.say(readback.which(doubt.meaning, doubt.rival, context.state.dial), Urgency.ANSWER)
        return
    if doubt is not None:
        context.update(doubt=None)
        act(context, doubt.meaning)
        return
    last = context.state.seen[-1] if context.state.seen else None
    if last is not None and context.at - last.at <= YES_WITHIN_S:
        return
    step = in_hand(context.state.progress)
    if step is not None and (step.must or step.kind != "act"):
        context.say(readback.not_a_yes(step.asks, step.examples()), Urgency.ANSWER)
    elif step is not None:
        requests.do(context, Order("ready"))


def _no(context: EventContext) -> None:
    doubt = context.state.doubt
    if doubt is not None:
        reports = reports_in(doubt.meaning)
        context.update(
            doubt=None,
            asking=reports[0].what if reports else None,
            asking_at=context.at,
            evidence=excluding(context.state.evidence, doubt.meaning),
            denied=reports,
            denied_at=context.at,
        )
        for report in reports:
            context.fact(ReadingRefused(report, "contradicted"))
        context.say(
            readback.wrong_then(reports[0].what if reports else None)
            if reports
            else walkthrough.going_on(),
            Urgency.ANSWER,
        )
        return
    last = context.state.seen[-1] if context.state.seen else None
    if last is None or context.at - last.at > TAKE_BACK_WITHIN_S:
        context.say(readback.nothing_to_take_back(), Urgency.ANSWER)
        return
    take_back(context)
    context.update(
        asking=last.report.what, asking_at=context.at, denied=(last.report,), denied_at=context.at
    )
    context.say(readback.taken_back(last.report, context.state.dial), Urgency.ANSWER)
    context.say(readback.wrong_then(last.report.what), Urgency.ANSWER)


def take_back(
    context: EventContext, instead: Report | None = None, which: TimedReport | None = None
) -> TimedReport:
    """The last report, or `which`, no longer stands; the book keeps both. It is returned.

    What the list made of it is undone when nothing was said since.
    """
    last = which or context.state.seen[-1]
    newest = last is context.state.seen[-1]
    same_list = newest and last.progress_before.checklist == context.state.progress.checklist
    context.update(
        belief=estimate.retracted(context.state.belief, _felt(last.report), last.at),
        progress=last.progress_before if same_list else context.state.progress,
        seen=ReportLog(seen for seen in context.state.seen if seen is not last),
        asked_times=0 if newest else context.state.asked_times,
    )
    context.fact(ReadingCorrected(last.report, instead))
    context.retracted.append(last.report.what)
    return last


def undo(context: EventContext) -> None:
    """Take back the last report, aloud."""
    if not context.state.seen:
        context.say(readback.nothing_to_take_back(), Urgency.ANSWER)
        return
    last = take_back(context)
    context.say(readback.taken_back(last.report, context.state.dial), Urgency.ANSWER)


def _correct(context: EventContext, report: Report) -> None:
    """ "Wrong, sixty five": in place of the doubted value, or of the last one that stood."""
    state = context.state
    last = state.latest(report.what)
    recent = last is not None and context.at - last.at <= CORRECT_WITHIN_S
    in_place = state.doubt is None and recent
    belief = state.belief
    if in_place and last is not None:
        belief = estimate.retracted(belief, _felt(last.report), last.at)
    objection = _objection(context, report, belief) or _off_gauge(context, report)
    if state.doubt is not None:
        for old in reports_in(state.doubt.meaning):
            context.fact(ReadingRefused(old, "contradicted"))
        context.update(doubt=None)
    elif in_place:
        last = take_back(context, instead=None if objection else report, which=last)
        if not objection:
            _let_stand(context, report, last.at)
            context.say(readback.corrected(report, context.parts.dial), Urgency.ANSWER)
            return
    if objection:
        _ask_whether(context, Decision("confirm", report, objection))
    else:
        take(context, (report,))
