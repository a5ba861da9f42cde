"""Acceptance gates: was it said to the assistant, and recognised well enough to be acted upon?

A closed grammar always finds some sentence, so the sound is tested by itself. Knows the figures of
a recogniser and the form of a phrase; knows no boiler and no cost.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from assistant.messages import Heard
from assistant.understanding.costs import MILD
from assistant.understanding.phrase_form import PhraseForm

ForUs = Literal["yes", "faint", "no"]

LEAST_MARGIN = 2.0  # nats, best meaning over the second


@dataclass(frozen=True, slots=True)
class Gate:
    """The least figures of a recogniser with which something passes."""

    log_ratio: float
    """Log-likelihood ratio of the best sentence against free decoding [nats]."""
    average: float
    """Mean log-probability of a token [nats]."""

    def passes(self, log_ratio: float, average: float) -> bool:
        """Whether both figures are reached."""
        return log_ratio >= self.log_ratio and average >= self.average


@dataclass(frozen=True, slots=True)
class Gates:
    """What a phrase of one form must pass."""

    take: Gate
    """To be accepted."""
    ask: Gate
    """To be confirmed by a question."""
    faint: Gate
    """To be asked for again while a question is open: it may have been a badly heard answer."""


# Nats a token. Below it lie 2 % of product sentences recognised rightly in noise, and half of what
# other talk was mistaken for; answers to an open question often lie below, and need not reach it.
_LEAST_AVERAGE = -0.85
# Log ratios as measured on product sentences, bare readings and other talk in engine noise: phrases
# separate at -6.5, bare numbers are what other talk is mistaken for. Unprompted phrases and named
# readings are accepted or ignored, never confirmed.
GATES: Mapping[PhraseForm, Gates] = MappingProxyType(
    {
        "phrase asked for": Gates(Gate(-6.5, -1.3), Gate(-6.5, -1.55), Gate(-13.0, -3.0)),
        "phrase": Gates(Gate(-6.5, _LEAST_AVERAGE), Gate(-6.5, _LEAST_AVERAGE), Gate(-9.0, -2.4)),
        "reading asked for": Gates(Gate(-4.5, -1.2), Gate(-5.5, -1.25), Gate(-13.0, -2.4)),
        "named": Gates(Gate(-2.5, _LEAST_AVERAGE), Gate(-2.5, _LEAST_AVERAGE), Gate(-9.0, -2.4)),
        "word": Gates(Gate(-1.0, _LEAST_AVERAGE), Gate(-4.0, _LEAST_AVERAGE), Gate(-9.0, -2.4)),
        "bare": Gates(Gate(-1.0, _LEAST_AVERAGE), Gate(-2.5, _LEAST_AVERAGE), Gate(-9.0, -2.4)),
    }
)
# For harmless orders of two words or more, "say again" above all; a clank can sound like "stop".
LOOSE = Gate(-3.0, -1.5)
# 0.23 s of speech and 0.3 s of padding before and after. Shorter are clanks that sound like "four"
# or "six" and fragments of words.
_SHORTEST_S = 0.83
# For orders that end, skip or take back.
_LASTING = Gate(-4.0, -1.5)
# A danger below the first is confirmed at once; one below the second was none.
DANGER_TAKEN = Gate(-2.5, -1.2)
DANGER_ASKED = Gate(-5.0, -1.6)
# For a value repeated instead of "correct": other talk does not repeat it. Judgement; the threshold
# of the probability stays the same.
AGREED = Gate(-4.5, -1.6)


def for_us(heard: Heard, form: PhraseForm, agreed: bool = False, danger: bool = False) -> ForUs:
    """Whether it was said to the assistant, assuming a phrase of this form.

    agreed: it is the value that was just asked about. danger: it would be a danger.

    >>> for_us(Heard(0.0, "ear", (), log_ratio=-0.2, average=-0.4), "bare")
    'yes'
    """
    if heard.log_ratio is None or heard.average is None:
        return "yes"
    gates = GATES[form]
    if 0.0 < heard.audio_s < _SHORTEST_S:
        return "faint"
    sufficient = [gates.ask, *[AGREED] * agreed, *[DANGER_ASKED] * danger]
    if any(gate.passes(heard.log_ratio, heard.average) for gate in sufficient):
        return "yes"
    return "faint" if gates.faint.passes(heard.log_ratio, heard.average) else "no"


def gates_to_take(row: str, form: PhraseForm, words: str, agreed: bool) -> tuple[Gate, ...]:
    """The gates of which one must be passed to be accepted. row: of `costs.TABLE`."""
    if row == "danger":
        return (DANGER_TAKEN,)
    usual = _LASTING if row == "lasting" else GATES[form].take
    return (usual, *[LOOSE] * (row in MILD and " " in words), *[AGREED] * agreed)


def no_figures(heard: Heard) -> str | None:
    """Why an ear without figures settles nothing lasting: it cannot reject other talk."""
    if heard.typed or _figures(heard) is not None:
        return None
    return "this ear cannot tell what is not for us"


def badly_heard(heard: Heard, sufficient: Sequence[Gate]) -> str | None:
    """Why the sound does not suffice to accept it: it passes none of the gates."""
    figures = _figures(heard)
    if heard.typed or figures is None or any(gate.passes(*figures) for gate in sufficient):
        return None
    log_ratio, average = figures
    return f"badly heard, or other words (log ratio {log_ratio:.1f}, {average:.1f} nats a token)"


def meanings_near(heard: Heard, margin: float) -> str | None:
    """Why its best meaning is not sure. margin: nats over the second meaning."""
    if heard.typed or _figures(heard) is None or margin >= LEAST_MARGIN:
        return None
    return f"two meanings are near ({margin:.1f} nats)"


def _figures(heard: Heard) -> tuple[float, float] | None:
    """Log ratio and average [nats]; None where the recogniser gives none."""
    if heard.log_ratio is None or heard.average is None:
        return None
    return heard.log_ratio, heard.average
