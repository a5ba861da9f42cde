"""How a reading is read back, confirmed, asked for again and refused. Knows no alarm and no step.

Numbers are always words, so that voice and screen agree. A teen or a ten is said in figures and
whole, so that neither is mistaken for the other; a question says any number both ways. Every
sentence is a pure function of its values.
"""

from __future__ import annotations

from collections.abc import Iterable

from assistant.grammar import counted, numbers
from assistant.messages import COAL_PUT_ON, WATER_PUT_IN, Correction, Meaning, Report, Several
from assistant.wording.help_words import pressure_example
from assistant.wording.quantities import (
    PART_UNITS,
    level_words,
    meaning_words,
    quantity_words,
    report_words,
    sentence,
    state_words,
    unit_after,
)


def _number(report: Report, join: str) -> str:
    """ "seven five, seventy five"; a single digit is said once."""
    value = float(report.value)
    if report.unit in PART_UNITS:
        return level_words(value, report.unit or "")
    whole, row = numbers.number_words(value), numbers.digit_by_digit(value)
    return whole if whole == row else f"{row}{join}{whole}"


def _heard_number(report: Report) -> str:
    """Short, and no number that sounds like another: "seventy five", "one two zero"."""
    value = float(report.value)
    if report.unit in PART_UNITS or _like_another(value):
        return _number(report, ". ")
    figures = value >= 100.0 or value != int(value)
    return numbers.digit_by_digit(value) if figures else numbers.number_words(value)


def _like_another(value: float) -> bool:
    """Whether it is one of twelve to nineteen, or of twenty, thirty ... ninety."""
    return value in range(12, 20) or value in range(20, 100, 10)


def read_back(report: Report, dial: str = "psi") -> str:
    """What is said of a report that is accepted unless contradicted.

    >>> read_back(Report("pressure", 75, "psi")), read_back(Report("pressure", 15, "psi"))
    ('Pressure seventy five.', 'Pressure one five. Fifteen.')
    """
    if isinstance(report.value, str):
        return sentence(state_words(report))
    if report.what in counted.SUBJECTS:
        return _count_read_back(report)
    text = f"{report.what} {_heard_number(report)}{unit_after(report, dial)}"
    return " ".join(sentence(piece) for piece in text.split(". "))


def _count_read_back(report: Report) -> str:
    """ "Two buckets on."; a teen or a ten in figures too: "Two zero. Twenty litres in." """
    words = sentence(counted.counted_words(report))
    value = float(report.value)
    figures = f"{sentence(numbers.digit_by_digit(value))} " if _like_another(value) else ""
    return f"{figures}{words}"


def read_back_several(reports: Iterable[Report], dial: str = "psi") -> str:
    """Read-back of several reports in one breath."""
    return " ".join(read_back(report, dial) for report in reports)


def confirm(meaning: Meaning, dial: str = "psi") -> str:
    """Asks whether a doubtful meaning was meant; only a yes makes it count.

    >>> confirm(Report("pressure", 15, "psi"))
    'Pressure one five, fifteen: is that right?'
    """
    if isinstance(meaning, Correction):
        return confirm(meaning.report, dial)
    if isinstance(meaning, Several):
        text = ", ".join(_confirm_part(report, dial) for report in meaning.reports)
    elif isinstance(meaning, Report):
        text = _confirm_part(meaning, dial)
    else:
        text = meaning_words(meaning, dial)
    return sentence(f"{text}: is that right?", "")


def _confirm_part(report: Report, dial: str) -> str:
    if isinstance(report.value, str):
        return state_words(report)
    if report.what in counted.SUBJECTS:
        words, value = counted.counted_words(report), float(report.value)
        return f"{numbers.digit_by_digit(value)}, {words}" if _like_another(value) else words
    return f"{report.what} {_number(report, ', ')}{unit_after(report, dial)}"


def which(best: Meaning, rival: Meaning, dial: str = "psi") -> str:
    """Asks which of two similar values it was, in words that sound different.

    >>> which(Report("pressure", 15, "psi"), Report("pressure", 50, "psi"))
    'Pressure one five, or five zero?'
    """
    first, second = (m.report if isinstance(m, Correction) else m for m in (best, rival))
    if not isinstance(first, Report) or not isinstance(second, Report):
        return confirm(best, dial)
    if (first.what, first.unit) != (second.what, second.unit):
        return confirm(best, dial)
    if first.what in counted.SUBJECTS:
        words = [counted.counted_words(report) for report in (first, second)]
        return sentence(f"{words[0]}, or {words[1]}?", "")
    if isinstance(first.value, str) or isinstance(second.value, str):
        return sentence(f"{state_words(first)}, or {state_words(second)}?", "")
    values = [_digits(report) for report in (first, second)]
    return sentence(f"{first.what} {values[0]}, or {values[1]}{unit_after(second, dial)}?", "")


def _digits(report: Report) -> str:
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
    """Asks to hear it again. times: on this one thing, from 1; the third asks in another way.

    >>> again(1), again(3)
    ('Say again?', 'Say the figures one by one: seven five.')
    """
    table = AGAIN_ANSWER if answering else SAY_AGAIN
    return table[min(max(times, 1), len(table)) - 1]


def refused(report: Report, reason: str, dial: str = "psi") -> str:
    """A reading that is not accepted, and why."""
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


UNDER_THE_GAUGE = "the gauge begins at nothing"


def corrected(new: Report, dial: str = "psi") -> str:
    """The right value replaces the wrong one."""
    return f"Corrected. {read_back(new, dial)}"


def taken_back(old: Report, dial: str = "psi") -> str:
    """The last reading no longer counts; the book keeps it and its retraction."""
    return f"Taken back: {report_words(old, dial)}."


def nothing_to_take_back() -> str:
    """There is no reading to take back."""
    return "Nothing to take back."


QUESTIONS: dict[str, str] = {
    "pressure": "What is the pressure?",
    "water": "Where is the water?",
    "tank": "What is in the tank?",
    COAL_PUT_ON: "How much went on?",
    WATER_PUT_IN: "How much went in?",
}


def ask_for(what: str) -> str:
    """Asks for a reading.

    >>> ask_for("water")
    'Where is the water?'
    """
    return QUESTIONS.get(what, f"What of the {what}?")


def wrong_then(about: str | None) -> str:
    """After a bare "wrong": asks for the right value.

    >>> wrong_then("pressure")
    'What is the pressure?'
    """
    return ask_for(about) if about else "What is right?"


def not_a_yes(about: str | None, answers: Iterable[str] = (), dial: str = "psi") -> str:
    """A killer question was answered by "yes" or "done": it needs what is seen.

    answers: one form for each state of the step.

    >>> not_a_yes("gear", ["out of gear", "still in gear"])
    'Say what you see: out of gear; still in gear.'
    >>> not_a_yes("water", ["no water in sight"])
    'Say what you see: water half; no water in sight.'
    """
    examples = [*examples_of(about, dial), *answers][:2] or [f"how {about or 'it'} stands"]
    return f"Say what you see: {'; '.join(examples)}."


EXAMPLES: dict[str, str] = {
    "pressure": "pressure seventy five",
    "water": "water half",
    "tank": "tank half",
    "fire": "fire is lit",
    "blower": "blower half open",
}


def examples_of(about: str | None, dial: str) -> tuple[str, ...]:
    """How a subject is reported, if there is an example of it."""
    example = pressure_example(dial) if about == "pressure" else EXAMPLES.get(about or "")
    return (example,) if example else ()


def examples(about: str | None, answers: Iterable[str] = (), dial: str = "psi") -> tuple[str, ...]:
    """Two examples of what answers the question; none when nothing is asked.

    about: the gauge that is asked for. answers: one form for each answer of the step.
    """
    return (*examples_of(about, dial), *answers)[:2]


def no_level_in_it() -> str:
    """What was said of the water was not followed."""
    return "I did not follow. Where is the water?"


def nonsense(about: str | None = None, answers: Iterable[str] = (), dial: str = "psi") -> str:
    """The reply to words that are not in the grammar: two that fit now, and where more are told.

    >>> nonsense(dial="bar")
    'I did not follow. You can say: pressure five bar; water half; help.'
    >>> nonsense("water", ["no water in sight"])
    'I did not follow. You can say: water half; no water in sight; help.'
    """
    fitting = examples(about, answers, dial) or (pressure_example(dial), EXAMPLES["water"])
    return f"I did not follow. You can say: {'; '.join(fitting)}; help."
