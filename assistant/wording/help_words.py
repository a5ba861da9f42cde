"""What can be said now, in few words, those for trouble first. Only forms that are understood.

Knows no step: its answers are handed in. One table; a pressure is named in the dial's unit.
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.wording.quantities import word_count

MOST_WORDS = 25  # one hearing, about eleven seconds at 130 words a minute. Judgement
TROUBLES_HOT = ("no water in sight", "steam escaping", "someone is hurt")
TROUBLES_COLD = ("fire outside", "someone is hurt")
ALL_TROUBLES = (
    "no water in sight", "plug has gone", "tube has burst", "steam escaping",
    "safety valve is stuck", "fire outside", "someone is hurt",
)  # fmt: skip
# The first of these that leave the whole short enough.
ALSO_HOT = ("water half", "what next", "putting away")
ALSO_IN_DANGER = ("danger is over", "what next", "why")
ALSO_COLD = ("what next", "not on this engine")
PRESSURES: dict[str, str] = {
    "psi": "pressure seventy five",
    "bar": "pressure five bar",
    "kPa": "pressure five hundred kilopascals",
    "kgf/cm2": "pressure five kilos",
}


def pressure_example(dial: str) -> str:
    """A pressure as it is called off a dial of that unit.

    >>> pressure_example("bar")
    'pressure five bar'
    """
    return PRESSURES.get(dial, PRESSURES["psi"])


def help_words(hot: bool, answers: Sequence[str], dial: str = "psi", danger: bool = False) -> str:
    """The reply to "what can I say". hot: with fire or steam; answers: of what is asked now;
    danger: one stands.

    >>> help_words(False, ["coal"])
    'In trouble: fire outside; someone is hurt. Now: coal. Also: what next; not on this engine.'
    """
    text = f"In trouble: {'; '.join(TROUBLES_HOT if hot else TROUBLES_COLD)}."
    if answers:
        text += f" Now: {'; '.join(answers)}."
    also: Sequence[str] = (pressure_example(dial), *ALSO_HOT) if hot else ALSO_COLD
    also = ALSO_IN_DANGER if danger else also
    said: list[str] = []
    for form in (form for form in also if form not in answers):
        if word_count(f"{text} Also: {'; '.join([*said, form])}.") <= MOST_WORDS:
            said.append(form)
    return f"{text} Also: {'; '.join(said)}." if said else text


def trouble_words() -> str:
    """The reply to "emergency": how each trouble is called."""
    return f"Say what you see: {'; '.join(ALL_TROUBLES)}."
