"""The corpus of the whole training: clips and digits, by who said them. Knows sounds only."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from assistant.enrolment.clip_corpus import Corpus
from assistant.lab.benches.number_takes import SOURCES
from assistant.recogniser.base import Sound

Digits = Mapping[int, Sequence[Sound]]
"""Takes of each digit."""
WordTakes = Mapping[str, Sequence[Sound]]
"""Takes of each number word."""
PEAK = 0.5
ORDER_GROUP = "orders"  # group of people's recorded orders for drinks
READER = "reader"  # a person who read number words one by one: trained on, too odd to evaluate on
PEOPLE = frozenset({ORDER_GROUP, "owner", READER, *SOURCES})  # groups that are no synthetic voices
DIGIT = "digit"  # in place of a prompt: a single digit, to be joined to numbers


@dataclass(frozen=True, slots=True, eq=False)
class TrainingCorpus(Corpus):
    """Clips, and what numbers are made of."""

    digits: Mapping[str, Digits] = field(default_factory=dict)
    """By person; a synthetic voice's stand under "GROUP/NAME"."""
    word_takes: Mapping[str, WordTakes] = field(default_factory=dict)
    """Single number words by person, "SOURCE/NAME"."""
    number_styles: Mapping[tuple[str, int], Mapping[str, int]] = field(default_factory=dict)
    """By prompt and count of digits: how often a number is written in which style."""

    def words(self) -> set[str]:
        """Every word in it, the single ones too."""
        single = {word for takes in self.word_takes.values() for word in takes}
        return super(TrainingCorpus, self).words() | single

    def without(self, held_out: str) -> TrainingCorpus:
        """The same without one person, voice or group."""
        return replace(
            self,
            clips=tuple(c for c in self.clips if held_out not in (c.speaker, c.group)),
            digits={who: d for who, d in self.digits.items() if held_out not in _names(who)},
            word_takes={
                who: w for who, w in self.word_takes.items() if held_out not in _names(who)
            },
        )

    def only(self, held_out: str) -> TrainingCorpus:
        """Nothing but one person, voice or group."""
        return replace(
            self,
            clips=tuple(c for c in self.clips if held_out in (c.speaker, c.group)),
            digits={who: d for who, d in self.digits.items() if held_out in _names(who)},
            word_takes={who: w for who, w in self.word_takes.items() if held_out in _names(who)},
        )

    def some(self, count: int, seed: int) -> TrainingCorpus:
        """So many of the clips, drawn; the digits stay."""
        drawn = np.random.default_rng([seed, 3]).permutation(len(self.clips))[:count]
        return replace(self, clips=tuple(self.clips[int(at)] for at in np.sort(drawn)))

    @property
    def people(self) -> tuple[str, ...]:
        """Whose digits are recorded and may be evaluated on."""
        return tuple(sorted(who for who in self.digits if "/" not in who))


def is_person(who: str) -> bool:
    """Whether digits under that name are a person's, not a voice's."""
    return "/" not in who or who.startswith(f"{READER}/")


def _names(who: str) -> tuple[str, ...]:
    """What digits may be held out by: a person's name; a voice's group, its name, or both."""
    return (who, *who.split("/"))


def at_peak(sound: Sound) -> Sound:
    """At the level of everything that is gathered; silence stays silence."""
    peak = max(1e-4, float(np.abs(sound).max(initial=0.0)))
    return np.asarray(PEAK * sound / np.float32(peak), dtype=np.float32)
