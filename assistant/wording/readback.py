"""How a reading is said back, asked about, asked for again and refused. Knows no alarm and no step.

Numbers are always words, figure by figure and then whole, so that the voice and the screen say the
same and no teen is taken for a ten. Every sentence is a pure function of its values.
"""

from __future__ import annotations

from collections.abc import Iterable

from assistant.grammar import numbers
from assistant.messages import Correction, Meaning, Report, Several
from assistant.wording.quantities import (
    PART_UNITS,
    meaning_words,
    level_words,
    quantity_words,
    report_words,
    sentence,
    state_words,
    unit_after,
)


def _number(report: Report, join: str) -> str:
    """ "seven five, seventy five"; a single figure is said once."""
    value = float(report.value)
    if report.unit in PART_UNITS:
        return level_words(value, report.unit or "")
    whole, row = numbers.number_words(value), numbers.digit_by_digit(value)
    return whole if whole == row else f"{row}{join}{whole}"


def read_back(report: Report, dial: str = "psi") -> str:
    """What is said when a report stands unless contradicted.

    >>> read_back(Report("pressure", 75, "psi")), read_back(Report("pressure", 5.5, "bar"))
    ('Pressure seven five. Seventy five.', 'Pressure five point five bar.')
    """
    if isinstance(report.value, str):
        return sentence(state_words(report))
    told = f"{report.what} {_number(report, '. ')}{unit_after(report, dial)}"
    return " ".join(sentence(piece) for piece in told.split(". "))


def read_back_several(reports: Iterable[Report], dial: str = "psi") -> str:
    """Read-back of several reports in one breath."""
    return " ".join(read_back(report, dial) for report in reports)


def confirm(meaning: Meaning, dial: str = "psi") -> str:
    """The question whether a doubtful thing was meant; only a spoken yes lets it count.

    >>> confirm(Report("pressure", 15, "psi"))
    'Pressure one five, fifteen: is that right?'
    """
    if isinstance(meaning, Correction):
        return confirm(meaning.report, dial)
    if isinstance(meaning, Several):
        told = ", ".join(_confirm_part(report, dial) for report in meaning.reports)
    elif isinstance(meaning, Report):
        told = _confirm_part(meaning, dial)
    else:
        told = meaning_words(meaning, dial)
    return sentence(f"{told}: is that right?", "")


def _confirm_part(report: Report, dial: str) -> str:
    if isinstance(report.value, str):
        return state_words(report)
    return f"{report.what} {_number(report, ', ')}{unit_after(report, dial)}"


def which(best: Meaning, rival: Meaning, dial: str = "psi") -> str:
    """Asks which of two near values it was, so that the answers are far apart.

    >>> which(Report("pressure", 15, "psi"), Report("pressure", 50, "psi"))
    'Pressure one five, or five zero?'
    """
    first, second = (one.report if isinstance(one, Correction) else one for one in (best, rival))
    if not isinstance(first, Report) or not isinstance(second, Report):
        return confirm(best, dial)
    if (first.what, first.unit) != (second.what, second.unit):
        return confirm(best, dial)
    if isinstance(first.value, str) or isinstance(second.value, str):
        return sentence(f"{state_words(first)}, or {state_words(second)}?", "")
    told = [_figures(report) for report in (first, second)]
    return sentence(f"{first.what} {told[0]}, or {told[1]}{unit_after(second, dial)}?", "")


def _figures(report: Report) -> str:
    value = float(report.value)
    return (
        level_words(value, report.unit or "")
        if report.unit in PART_UNITS
        else numbers.digit_by_digit(value)
    )


def confirm_because(meaning: Meaning, reason: str, dial: str = "psi") -> str:
    """The same question with the boiler's objection before it.

    >>> confirm_because(Report("pressure", 95, "psi"), "sixty to ninety five in one minute")
    'Sixty to ninety five in one minute? Pressure nine five, ninety five: is that right?'
    """
    return f"{sentence(reason.rstrip('.?'), '?')} {confirm(meaning, dial)}"


SAY_AGAIN = (
    "Say again?",
    "Say again, a little slower?",
    "Say the figures one by one: seven five.",
    "Still not clear. Type it on the keys, please.",
)
AGAIN_ANSWER = (
    "Say that's right, or wrong?",
    "Say that's right, or wrong?",
    "Say that's right, or wrong and the figures one by one.",
    "Still not clear. Type it on the keys, please.",
)


def again(times: int, answering: bool = False) -> str:
    """Asks to hear it again. times: how often on this one thing, from 1; other ways from the third.

    >>> again(1), again(3)
    ('Say again?', 'Say the figures one by one: seven five.')
    """
    table = AGAIN_ANSWER if answering else SAY_AGAIN
    return table[min(max(times, 1), len(table)) - 1]


def refused(report: Report, reason: str, dial: str = "psi") -> str:
    """A reading that is not taken, and why."""
    return f"{sentence(report_words(report, dial))} Not taken. {sentence(reason)}"


def not_on_scale(what: str) -> str:
    """The reason for a height that glass or tank cannot show."""
    return f"the {'glass' if what == 'water' else what} ends at full"


def off_gauge(top: float, unit: str) -> str:
    """The reason for a value that the dial cannot show.

    >>> off_gauge(200, "psi")
    'the gauge ends at two hundred pounds'
    """
    return f"the gauge ends at {quantity_words(top, unit)}"


def corrected(new: Report, dial: str = "psi") -> str:
    """The right value in place of the wrong one."""
    return f"Corrected. {read_back(new, dial)}"


def taken_back(old: Report, dial: str = "psi") -> str:
    """The last reading is out of the sums; the book keeps both."""
    return f"Taken back: {report_words(old, dial)}."


def nothing_to_take_back() -> str:
    """There is no reading that could be taken back."""
    return "Nothing to take back."


QUESTIONS: dict[str, str] = {
    "pressure": "What is the pressure?",
    "water": "Where is the water?",
    "tank": "What is in the tank?",
}


def ask_for(what: str) -> str:
    """Asks for a reading.

    >>> ask("water")
    'Where is the water?'
    """
    return QUESTIONS.get(what, f"What of the {what}?")


def wrong_then(about: str | None) -> str:
    """After a bare "wrong": asks for the right value.

    >>> wrong_then("pressure")
    'What is the pressure?'
    """
    return ask_for(about) if about else "What is right?"


def not_a_yes(about: str | None, answers: Iterable[str] = ()) -> str:
    """A killer question was answered by "yes" or "done": it wants what is seen.

    answers: one form for each state that the step knows.

    >>> not_a_yes("gear", ["out of gear", "still in gear"])
    'Say what you see: out of gear; still in gear.'
    """
    own = [*answers][:2] or [EXAMPLES.get(about or "", f"how {about or 'it'} stands")]
    return f"Say what you see: {'; '.join(own)}."


EXAMPLES: dict[str, str] = {
    "pressure": "pressure seventy five",
    "water": "water half",
    "tank": "tank half",
    "fire": "fire is lit",
    "blower": "blower half open",
}


def nonsense(about: str | None = None, answers: Iterable[str] = ()) -> str:
    """The reply to words that are none of ours: what can be said now, three examples at most.

    >>> nonsense()
    'I did not follow. You can say: pressure seventy five; water half; what next.'
    >>> nonsense("water", ["no water in sight"])
    'I did not follow. You can say: water half; no water in sight; not yet.'
    """
    own = [*answers][:2]
    if about in EXAMPLES:
        own = [EXAMPLES[about], *own[:1]]
    own = own or ["pressure seventy five", "water half"]
    closing = "not yet" if about or own[0] not in EXAMPLES.values() else "what next"
    return f"I did not follow. You can say: {'; '.join([*own, closing])}."
