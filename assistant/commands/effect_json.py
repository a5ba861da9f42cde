"""An effect as the JSON line of `run --json`, whose form other programs rely on."""

from __future__ import annotations

from typing import Any

from assistant.messages import (
    AlarmChanged,
    Decided,
    Effect,
    Ended,
    Fault,
    ForecastMade,
    Hush,
    LessonGiven,
    Listen,
    NoteTaken,
    PhaseBegan,
    PhaseDone,
    ReadingAccepted,
    ReadingCorrected,
    ReadingDoubted,
    ReadingRefused,
    Report,
    Say,
    StepAsked,
    StepDone,
    StepOvertaken,
    StepSkipped,
    Tone,
)


def effect_json(at_s: float, effect: Effect) -> dict[str, Any]:
    """One JSON object: `at_s`, `did` and the fields of that effect.

    >>> effect_json(12.0, ReadingAccepted(Report("pressure", 75.0, "psi")))["state"]
    'accepted'
    """
    return {"at_s": round(at_s, 3), **_particulars(effect)}


def _particulars(effect: Effect) -> dict[str, Any]:
    match effect:
        case Say():
            return {"did": "say", "text": effect.text, "urgency": effect.urgency.name.lower()}
        case Hush():
            return {"did": "hush"}
        case Tone():
            return {"did": "tone", "grade": effect.grade.word}
        case Listen():
            return {"did": "listen", "expected": effect.expected.kind}
        case Decided():
            return {"did": "decided", "rule": effect.rule, "kind": effect.kind}
        case AlarmChanged():
            return {
                "did": "alarm",
                "name": effect.name,
                "grade": effect.grade.word,
                "state": effect.state,
                "reason": effect.reason,
            }
        case ReadingAccepted() | ReadingDoubted() | ReadingRefused() | ReadingCorrected():
            return _reading_json(effect)
        case PhaseBegan() | PhaseDone():
            state = "began" if isinstance(effect, PhaseBegan) else "done"
            return {"did": "phase", "phase": effect.phase, "state": state}
        case StepAsked():
            return _step_json(effect.phase, effect.step, "asked")
        case StepDone():
            return {**_step_json(effect.phase, effect.step, "done"), "answer": effect.answer}
        case StepSkipped():
            state = "left out" if effect.reason else "skipped"
            return _step_json(effect.phase, effect.step, state)
        case StepOvertaken():
            shape = _step_json(effect.phase, effect.step, "overtaken")
            return {**shape, "because": effect.because}
        case ForecastMade():
            return {
                "did": "forecast",
                "target_psi": effect.target_psi,
                "minutes": None
                if effect.mid is None
                else {"low": effect.low, "mid": effect.mid, "high": effect.high},
                "why": effect.why,
            }
        case NoteTaken():
            return {"did": "note", "text": effect.text, "clip": effect.clip}
        case LessonGiven():
            return {"did": "lesson", "step": effect.step, "what": effect.what}
        case Fault():
            return {"did": "fault", "message": effect.message}
        case Ended():
            return {"did": "ended", "reason": effect.reason}


def _step_json(phase: str, step: str, state: str) -> dict[str, Any]:
    return {"did": "step", "phase": phase, "step": step, "state": state}


def _report_json(report: Report | None) -> dict[str, Any]:
    if report is None:
        return {"reading": None, "value": None, "unit": None}
    return {"reading": report.what, "value": report.value, "unit": report.unit}


def _reading_json(
    effect: ReadingAccepted | ReadingDoubted | ReadingRefused | ReadingCorrected,
) -> dict[str, Any]:
    match effect:
        case ReadingAccepted():
            return {"did": "reading", **_report_json(effect.report), "state": "accepted"}
        case ReadingDoubted():
            return {"did": "doubt", **_report_json(effect.report), "reason": effect.reason}
        case ReadingRefused(report=None):
            return {"did": "again", "reason": effect.reason}
        case ReadingRefused():
            refused = {"state": "refused", "reason": effect.reason}
            return {"did": "reading", **_report_json(effect.report), **refused}
        case ReadingCorrected():
            now = effect.new or Report(effect.old.what, "", None)
            named = _report_json(now) if effect.new else {**_report_json(now), "value": None}
            old = _report_json(effect.old)
            return {"did": "reading", **named, "state": "corrected", "instead_of": old}
