"""One utterance: what it is taken for, and what that does to what we believe.

The decision itself is talk's (`readback.decide`), the plausibility the boiler's.
"""

from __future__ import annotations

from dataclasses import replace

from assistant.belief import estimate
from assistant.dialogue import requests, wake_gate
from assistant.dialogue.event_context import Turn
from assistant.dialogue.state import Doubt, Seen, Told
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
from assistant.understanding.costs import Care, Mark, is_danger
from assistant.understanding.decide import Decision, decide, reports_in
from assistant.understanding.gates import typed
from assistant.understanding.retries import gathered, weighed, without
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


def hear(turn: Turn, heard: Heard) -> None:
    """Take an utterance for what it most likely is, or ask, or pass it over."""
    noting = turn.mind.noting
    note = heard.text if noting else notes.in_one_breath(heard.text)
    doubt = turn.mind.doubt
    doubted = reports_in(doubt.meaning)[0] if doubt and reports_in(doubt.meaning) else None
    before = turn.mind.evidence
    heard = replace(heard, alternatives=weighed(heard, before, turn.at))
    decision = decide(
        heard,
        turn.mind.expected,
        lambda report: _chance(turn, report),
        lambda report: _objection(turn, report),
        limits=lambda report: off_gauge(turn, report),
        care=_care(turn),
        mark_of=lambda report: _mark_of(turn, report),
        doubted=doubted,
    )
    if wake_gate.passes_over(turn, heard, decision, _is_of_danger(turn, decision)):
        return
    turn.now(noting=False)
    if note is not None and not _is_ours(turn, decision, heard):
        turn.now(heard_at=turn.at)
        turn.fact(NoteTaken(note, heard.clip))
        said = notes.taken(not typed(heard), heard.clip is not None)
        turn.say(said, Urgency.ANSWER)
        return
    if not typed(heard):
        decision = _not_what_was_denied(turn, decision)
    if decision.kind in ("confirm", "again"):
        turn.now(evidence=gathered(heard, heard.alternatives, before, turn.at))
    elif decision.kind == "accept" and decision.meaning and reports_in(decision.meaning):
        turn.now(evidence=None)
    match decision.kind:
        case "accept" if decision.meaning is not None:
            turn.now(heard_at=turn.at, misses=0)
            turn.understood = True
            act(turn, decision.meaning)
        case "confirm" if decision.meaning is not None:
            turn.now(heard_at=turn.at, misses=0)
            _ask_whether(turn, decision)
        case "again":
            _ask_again(turn, heard, decision)


def _is_ours(turn: Turn, decision: Decision, heard: Heard) -> bool:
    """Surely one of our sentences, and not the one that only asks for a note, nor a short one in
    the place of many words; a danger that is merely likely counts too: no note may swallow it."""
    meaning = decision.meaning
    if meaning is None or meaning == Order("note"):
        return False
    if is_danger(meaning, lambda report: _mark_of(turn, report)):
        return _is_of_danger(turn, decision)
    words = next((a.words for a in heard.alternatives if a.meaning == meaning), heard.text)
    short = SHORT_OF * len(words.split()) < len(heard.text.split())
    return decision.kind == "accept" and not short


def _is_of_danger(turn: Turn, decision: Decision) -> bool:
    """Whether it is taken for the report of a danger, or asked about as one."""
    if decision.meaning is None or decision.kind not in ("accept", "confirm"):
        return False
    return is_danger(decision.meaning, lambda report: _mark_of(turn, report))


def _not_what_was_denied(turn: Turn, decision: Decision) -> Decision:
    """A value that was just called wrong is asked about, however surely it is heard again."""
    recent = turn.at - turn.mind.denied_at <= DENIED_FOR_S
    if decision.kind != "accept" or not recent or decision.meaning not in turn.mind.denied:
        return decision
    return replace(decision, kind="confirm", reason="it was just called wrong", rival=None)


def _chance(turn: Turn, report: Report) -> float | None:
    """How well the boiler could be there; None, too, when the sum fails."""
    try:
        return estimate.chance(turn.mind.belief, report)
    except Exception as bug:
        turn.failed(bug)
        return None


def _objection(turn: Turn, report: Report, belief: estimate.Belief | None = None) -> str | None:
    """Why the boiler cannot be there; None, too, when the sum fails."""
    try:
        return estimate.objection(belief or turn.mind.belief, report)
    except Exception as bug:
        turn.failed(bug)
        return None


def _felt(report: Report) -> Report:
    """The report as the boiler feels it: the pump's bypass shut is a feed, open it is none."""
    if report.what != "bypass":
        return report
    return Report("feed", "on" if report.value == "shut" else "off")


def off_gauge(turn: Turn, report: Report) -> str | None:
    """A reason if no gauge of this engine can show the value."""
    engine = turn.parts.engine
    if isinstance(report.value, str):
        return None
    value = measure(report, engine)
    if value is None:
        return None
    if report.what == "pressure" and value > engine.dial_top_gauge_pa * 1.001:
        return readback.off_gauge(_dial_top(turn, report), report.unit or "psi")
    if report.what in ("water", "tank") and not -1e-6 <= value <= 1.0 + 1e-6:
        return readback.not_on_scale(report.what)
    return None


def _dial_top(turn: Turn, report: Report) -> float:
    """The end of the dial in the unit that was spoken."""
    per_unit = measure(Report("pressure", 1.0, report.unit), turn.parts.engine) or 1.0
    return float(round(turn.parts.engine.dial_top_gauge_pa / per_unit))


def _care(turn: Turn) -> Care:
    step = in_hand(turn.mind.progress)
    if step is not None and step.must:
        return Care.HOLD
    water = turn.mind.latest("water")
    return Care.MARK if water and _mark_of(turn, water.report) else Care.USUAL


def _mark_of(turn: Turn, report: Report) -> Mark | None:
    """Where a reported height of the water stands to the engine's marks."""
    level = measure(report, turn.parts.engine) if report.what == "water" else None
    if level is None:
        return None
    glass = turn.parts.engine.glass
    if level <= glass.lower_mark + 1e-6:
        return Mark.LOW
    near = min(abs(level - mark) for mark in (glass.lower_mark, glass.upper_mark)) < NEAR_A_MARK
    return Mark.NEAR if near else None


def _ask_whether(turn: Turn, decision: Decision) -> None:
    meaning = decision.meaning
    assert meaning is not None
    rival = decision.rival if reports_in(meaning) else None
    turn.now(doubt=Doubt(meaning, decision.reason, turn.at, rival))
    for report in (*reports_in(meaning), *(reports_in(rival) if rival else ())):
        turn.fact(ReadingDoubted(report, decision.reason))
    objection = next(filter(None, (_objection(turn, r) for r in reports_in(meaning))), None)
    if objection:
        turn.say(readback.confirm_because(meaning, objection, turn.mind.dial), Urgency.ANSWER)
    elif rival is not None:
        turn.say(readback.which(meaning, rival, turn.mind.dial), Urgency.ANSWER)
    else:
        turn.say(readback.confirm(meaning, turn.mind.dial), Urgency.ANSWER)


def _ask_again(turn: Turn, heard: Heard, decision: Decision) -> None:
    turn.now(misses=turn.mind.misses + 1)
    reports = reports_in(decision.meaning) if decision.meaning else ()
    turn.fact(ReadingRefused(reports[0] if reports else None, decision.reason))
    if reports and off_gauge(turn, reports[0]):
        turn.say(readback.refused(reports[0], decision.reason, turn.mind.dial), Urgency.ANSWER)
    elif not heard.alternatives:
        step = in_hand(turn.mind.progress)
        answers = step.examples() if step else ()
        turn.say(readback.nonsense(_about(turn), answers), Urgency.ANSWER)
    else:
        answering = turn.mind.expected.kind == "answer"
        turn.say(readback.again(turn.mind.misses, answering), Urgency.ANSWER)


def _about(turn: Turn) -> str | None:
    kind = turn.mind.expected.kind
    return kind if kind in ("pressure", "water", "tank") else None


def act(turn: Turn, meaning: Meaning) -> None:
    """Do what a meaning asks, now that it is believed."""
    match meaning:
        case Report():
            take(turn, (meaning,))
        case Several(reports):
            take(turn, reports)
        case Correction(report):
            _correct(turn, report)
        case Answer("yes"):
            _yes(turn)
        case Answer():
            _no(turn)
        case Order("undo"):
            turn.now(doubt=None)
            undo(turn)
        case Order():
            _obey(turn, meaning)


def _obey(turn: Turn, order: Order) -> None:
    """An order; a mere question leaves what is in doubt in doubt, and it is asked once more."""
    doubt = turn.mind.doubt
    turn.order = order.name
    if doubt is not None and order.name not in MERE_QUESTIONS:
        turn.now(doubt=None)
    if doubt is not None and order.name == "why":
        turn.say(walkthrough.why(doubt.reason), Urgency.ANSWER)
    elif doubt is None or order.name != "repeat":
        requests.do(turn, order)
    if doubt is not None and turn.mind.doubt is doubt:
        turn.say(readback.confirm(doubt.meaning, turn.mind.dial), Urgency.ANSWER)


def take(turn: Turn, reports: tuple[Report, ...]) -> None:
    """Reports that stand: into the book, into the belief, said back."""
    for report in reports:
        turn.fact(ReadingAccepted(report))
        _let_stand(turn, report, turn.at)
    # named by the engine's own dial: another unit is always said, it may have been misheard
    turn.say(readback.read_back_several(reports, turn.parts.dial), Urgency.ANSWER)


def _let_stand(turn: Turn, report: Report, at: float) -> None:
    before = turn.mind
    turn.now(
        belief=estimate.update(before.belief, _felt(report), at),
        seen=before.seen.and_one(Seen(report, at, before.progress)),
        doubt=None,
        misses=0,
        denied=tuple(r for r in before.denied if r.what != report.what),
        asking=None if before.asking == report.what else before.asking,
        dial=(report.unit if report.what == "pressure" else None) or before.dial,
    )
    turn.taken.append(report)


def _yes(turn: Turn) -> None:
    doubt = turn.mind.doubt
    if doubt is not None and doubt.rival is not None:
        turn.say(readback.which(doubt.meaning, doubt.rival, turn.mind.dial), Urgency.ANSWER)
        return
    if doubt is not None:
        turn.now(doubt=None)
        act(turn, doubt.meaning)
        return
    last = turn.mind.seen[-1] if turn.mind.seen else None
    if last is not None and turn.at - last.at <= YES_WITHIN_S:
        return
    step = in_hand(turn.mind.progress)
    if step is not None and (step.must or step.kind != "act"):
        turn.say(readback.not_a_yes(step.asks, step.examples()), Urgency.ANSWER)
    elif step is not None:
        requests.do(turn, Order("ready"))


def _no(turn: Turn) -> None:
    doubt = turn.mind.doubt
    if doubt is not None:
        reports = reports_in(doubt.meaning)
        turn.now(
            doubt=None,
            asking=reports[0].what if reports else None,
            asking_at=turn.at,
            evidence=without(turn.mind.evidence, doubt.meaning),
            denied=reports,
            denied_at=turn.at,
        )
        for report in reports:
            turn.fact(ReadingRefused(report, "contradicted"))
        turn.say(
            readback.wrong_then(reports[0].what if reports else None)
            if reports
            else walkthrough.going_on(),
            Urgency.ANSWER,
        )
        return
    last = turn.mind.seen[-1] if turn.mind.seen else None
    if last is None or turn.at - last.at > TAKE_BACK_WITHIN_S:
        turn.say(readback.nothing_to_take_back(), Urgency.ANSWER)
        return
    take_back(turn)
    turn.now(asking=last.report.what, asking_at=turn.at, denied=(last.report,), denied_at=turn.at)
    turn.say(readback.taken_back(last.report, turn.mind.dial), Urgency.ANSWER)
    turn.say(readback.wrong_then(last.report.what), Urgency.ANSWER)


def take_back(turn: Turn, instead: Report | None = None, which: Seen | None = None) -> Seen:
    """The last report, or `which`, no longer stands; the book keeps both. It is returned.

    What the list made of it is undone when nothing was said since.
    """
    last = which or turn.mind.seen[-1]
    newest = last is turn.mind.seen[-1]
    same_list = newest and last.progress_before.checklist == turn.mind.progress.checklist
    turn.now(
        belief=estimate.without(turn.mind.belief, _felt(last.report), last.at),
        progress=last.progress_before if same_list else turn.mind.progress,
        seen=Told(seen for seen in turn.mind.seen if seen is not last),
        asked_times=0 if newest else turn.mind.asked_times,
    )
    turn.fact(ReadingCorrected(last.report, instead))
    turn.taken_back.append(last.report.what)
    return last


def undo(turn: Turn) -> None:
    """Take back the last report, aloud."""
    if not turn.mind.seen:
        turn.say(readback.nothing_to_take_back(), Urgency.ANSWER)
        return
    last = take_back(turn)
    turn.say(readback.taken_back(last.report, turn.mind.dial), Urgency.ANSWER)


def _correct(turn: Turn, report: Report) -> None:
    """ "Wrong, sixty five": in place of the doubted value, or of the last one that stood."""
    mind = turn.mind
    last = mind.latest(report.what)
    recent = last is not None and turn.at - last.at <= CORRECT_WITHIN_S
    in_place = mind.doubt is None and recent
    belief = mind.belief
    if in_place and last is not None:
        belief = estimate.without(belief, _felt(last.report), last.at)
    objection = _objection(turn, report, belief) or off_gauge(turn, report)
    if mind.doubt is not None:
        for old in reports_in(mind.doubt.meaning):
            turn.fact(ReadingRefused(old, "contradicted"))
        turn.now(doubt=None)
    elif in_place:
        last = take_back(turn, instead=None if objection else report, which=last)
        if not objection:
            _let_stand(turn, report, last.at)
            turn.say(readback.corrected(report, turn.parts.dial), Urgency.ANSWER)
            return
    if objection:
        _ask_whether(turn, Decision("confirm", report, objection))
    else:
        take(turn, (report,))
