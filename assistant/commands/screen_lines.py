"""Events and effects as lines on the screen: what was said, heard, entered and raised."""

from __future__ import annotations

from assistant.devices.console import Screen
from assistant.messages import (
    AlarmChanged,
    Effect,
    Ended,
    Fault,
    ForecastMade,
    Heard,
    LessonGiven,
    NoteTaken,
    PhaseBegan,
    ReadingAccepted,
    ReadingCorrected,
    ReadingDoubted,
    ReadingRefused,
    Say,
    StepDone,
    StepOvertaken,
    StepSkipped,
)
from assistant.understanding.certainty import doubt_shown
from assistant.wording.quantities import report_words


def show(screen: Screen, at_s: float, effect: object) -> None:
    """An effect, or an utterance heard, as a line; effects without news for a person have none."""
    match effect:
        case Say():
            screen.line(at_s, "assistant", effect.text)
        case Heard():
            screen.line(at_s, "operator", _heard(effect))
        case ReadingAccepted():
            screen.line(at_s, "book", f"entered: {report_words(effect.report)}")
        case ReadingDoubted():
            screen.line(at_s, "book", f"in doubt: {report_words(effect.report)} ({effect.reason})")
        case ReadingRefused():
            refused = report_words(effect.report) if effect.report else "what was said"
            screen.line(at_s, "book", f"not taken: {refused} ({effect.reason})")
        case ReadingCorrected():
            new = report_words(effect.new) if effect.new else "nothing yet"
            screen.line(at_s, "book", f"corrected: {report_words(effect.old)} -> {new}")
        case StepDone():
            screen.line(at_s, "book", f"done: {effect.step} ({effect.answer})")
        case StepSkipped():
            state = f"left out ({effect.reason})" if effect.reason else "left open"
            screen.line(at_s, "book", f"{state}: {effect.step}")
        case StepOvertaken():
            screen.line(at_s, "book", f"overtaken: {effect.step} ({effect.because})")
        case PhaseBegan():
            screen.line(at_s, "book", f"--- {effect.phase} ---")
        case AlarmChanged():
            line = f"{effect.grade.word}: {effect.name} {effect.state} ({effect.reason})"
            screen.line(at_s, "book", line, effect.grade)
        case ForecastMade():
            screen.line(at_s, "book", f"forecast: {effect.why}")
        case NoteTaken():
            screen.line(at_s, "book", f"note: {effect.text}")
        case LessonGiven("reason" | "act"):
            pass  # the words are shown
        case LessonGiven():
            screen.line(at_s, "book", f"{effect.what}: {effect.step}")
        case Fault():
            screen.line(at_s, "trouble", effect.message)
        case Ended():
            screen.line(at_s, "book", f"ended: {effect.reason}")


def _heard(heard: Heard) -> str:
    if not heard.alternatives:
        return f"({heard.text or 'not understood'})"
    sure = doubt_shown(heard)
    return heard.alternatives[0].words + (f"   [{sure}]" if sure else "")


class ScreenPerformer:
    """Performs effects by showing them."""

    def __init__(self, screen: Screen) -> None:
        self._screen = screen

    def perform(self, at_s: float, effect: Effect) -> None:
        """One line, if it is news."""
        show(self._screen, at_s, effect)
