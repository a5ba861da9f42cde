"""What every ear is: sound and a grammar in, meanings with probabilities out.

Knows no engine of recognition, no boiler and no clock.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
import numpy.typing as npt

from assistant.messages import Alternative, Meaning

Sound = npt.NDArray[np.float32]
"""One channel at SPEECH_RATE_HZ, float32 within -1..1."""


class Grammar(Hashable, Protocol):
    """What may be said now. `sentences` maps every accepted word sequence to its one meaning.

    A grammar too large to list gives `automaton` (hearing.automaton.Automaton) instead; an ear
    looks for that first.
    """

    @property
    def sentences(self) -> Mapping[tuple[str, ...], Meaning]: ...

    @property
    def prompt(self) -> str:
        """A short text that names the words, for an ear that can be told what to listen for."""

    def meaning(self, words: Sequence[str]) -> Meaning | None:
        """What exactly these words mean; None: not one of the sentences."""


@dataclass(frozen=True, slots=True)
class NBest:
    """What one ear made of one utterance.

    alternatives: best first, one for each meaning, probabilities over the grammar adding up to at
    most 1. log_ratio: nats, the best sentence of the grammar minus the best of any sentence at all;
    average: nats per token of the best sentence of the grammar. Both None: the ear has no such
    figures. text: what was heard when nothing was held to the grammar, if the ear knows it.
    """

    ear: str
    alternatives: tuple[Alternative, ...]
    log_ratio: float | None = None
    average: float | None = None
    text: str = ""


class Recogniser(Protocol):
    """Something that hears."""

    @property
    def name(self) -> str:
        """The ear's name, as it stands in the journal."""

    def prepare(self, grammar: Grammar) -> None:
        """Do now what can be done before the sound is there; hearing works without it."""

    def hear(self, sound: Sound, grammar: Grammar) -> NBest:
        """What may have been meant by one utterance, of the sentences of `grammar`."""
