"""What every recogniser is: sound and a grammar in, meanings with probabilities out.

Knows no engine of recognition, no boiler and no clock.
"""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol, runtime_checkable

import numpy as np
import numpy.typing as npt

from assistant.grammar.numbers import Words
from assistant.messages import Alternative, Meaning
from assistant.recogniser.automaton import Automaton

Sound = npt.NDArray[np.float32]
"""One channel at SPEECH_RATE_HZ, float32 within -1..1."""

ListedSentences = Mapping[Words, Meaning]
"""Word sequences to their one meaning."""


class Grammar(Hashable, Protocol):
    """What may be said now."""

    @property
    def layers(self) -> Sequence[ListedSentences | Automaton]:
        """All sentences, in parts, of which the first that has a sentence says what it means; a
        part that is too large to list is an automaton. What is compiled of a part is kept by the
        identity of the object, so parts that several grammars share should be one object."""

    @property
    def likely(self) -> Sequence[ListedSentences]:
        """Sentences of the layers that are searched for a second time with a beam of their own, so
        that thousands of others do not crowd them out; may be empty."""

    @property
    def sentences(self) -> ListedSentences:
        """All sentences of the layers that are listed."""

    @property
    def prompt(self) -> str:
        """A short text that names the words, for a recogniser that takes one."""

    def meaning(self, words: Sequence[str]) -> Meaning | None:
        """What exactly these words mean; None if they are not a sentence."""

    def weight(self, meaning: Meaning) -> float:
        """Prior of a meaning, above 0; only ratios matter."""


@dataclass(frozen=True, eq=False)
class ListedGrammar:
    """A grammar of few sentences, all equally likely."""

    sentences: ListedSentences
    prompt: str = ""
    likely: tuple[ListedSentences, ...] = ()

    @property
    def layers(self) -> tuple[ListedSentences]:
        """All of them in one layer."""
        return (self.sentences,)

    def meaning(self, words: Sequence[str]) -> Meaning | None:
        """What exactly these words mean; None if they are not a sentence."""
        return self.sentences.get(tuple(words))

    def weight(self, meaning: Meaning) -> float:
        """Alike for all."""
        return 1.0


@dataclass(frozen=True, slots=True)
class NBest:
    """What one recogniser made of one utterance."""

    recogniser: str
    """Its name."""
    alternatives: tuple[Alternative, ...]
    """Best first, one for each meaning; probabilities over the grammar, adding up to at most 1."""
    log_ratio: float | None = None
    """Nats: the best sentence of the grammar minus the best text of any kind; None: not known."""
    average: float | None = None
    """Nats per token of the best sentence of the grammar; None: not known."""
    text: str = ""
    """The best text of any kind, if the recogniser has one."""


class Recogniser(Protocol):
    """Something that hears."""

    @property
    def name(self) -> str:
        """Its name, as it stands in the journal."""

    def prepare(self, grammar: Grammar) -> None:
        """Compile the grammar before the sound is there; hearing works without it."""

    def hear(self, sound: Sound, grammar: Grammar) -> NBest:
        """What may have been meant by one utterance, of the sentences of `grammar`."""


@runtime_checkable
class Warms(Recogniser, Protocol):
    """One that can do more beforehand than to compile the grammar."""

    def warm(self, grammar: Grammar) -> None:
        """Do what only makes the first utterance quicker to answer, once there is time."""
