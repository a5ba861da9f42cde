"""Takes of people who say numbers and short commands, split by person. Knows a folder's table.

Recordings: folder with numbers/ (CMU AN4, Coswara, Speech Commands, speechocean762; none of it is
part of the project). Nothing is learnt from a person who is judged by, and what is fitted to the
ear's posterior is fitted on yet other people.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal

from assistant.grammar.numbers import TEENS, TENS, Words
from assistant.grammar.phrases import grammar
from assistant.lab.benches.recordings import labels_in
from assistant.messages import Expected, Meaning, Report

Fold = Literal["learn", "calibrate", "judge"]
SOURCES = ("an4", "coswara", "gsc", "speechocean")
_JUDGED_BY, _CALIBRATED_BY = 26, 12  # of a hundred people


@dataclass(frozen=True, slots=True)
class NumberTake:
    """One recording."""

    file: Path
    source: str
    """One of `SOURCES`."""
    speaker: str
    """Name of the person within the source."""
    words: Words
    kind: str
    """"utterance", "cut", "word", "command" or "sentence"."""

    @property
    def fold(self) -> Fold:
        """What this person serves for."""
        return fold_of(self.source, self.speaker)


def fold_of(source: str, speaker: str) -> Fold:
    """What a person serves for; fixed by the name, whatever other people there are.

    >>> fold_of("an4", "fejs"), fold_of("coswara", "p04")
    ('learn', 'judge')
    """
    name = f"held out/{source}/{speaker}".encode()
    drawn = int.from_bytes(hashlib.sha256(name).digest()[:4], "big") % 100
    if drawn < _JUDGED_BY:
        return "judge"
    return "calibrate" if drawn < _JUDGED_BY + _CALIBRATED_BY else "learn"


@cache
def number_takes(recordings: Path) -> tuple[NumberTake, ...]:
    """All takes, in the order of their files' names; none where there is no numbers/labels.csv."""
    folder = recordings / "numbers"
    return tuple(
        NumberTake(
            folder / row["file"], row["source"], row["speaker"],
            tuple(row["words"].split()), row["kind"],
        )
        for row in labels_in(folder)
    )  # fmt: skip


def pressure_takes(recordings: Path, fold: Fold) -> Iterator[tuple[NumberTake, Meaning]]:
    """Takes of a fold's people that are an answer to the question for a pressure."""
    pressures = grammar(Expected("pressure"))
    for take in number_takes(recordings):
        if take.fold == fold:
            meant = pressures.meaning(take.words)
            if isinstance(meant, Report):
                yield take, meant


def row_of(take: NumberTake) -> str:
    """Which row of a table a take counts in: its source, and how great the number is.

    >>> take = NumberTake(Path("x.flac"), "an4", "fash", ("one", "fifty"), "utterance")
    >>> row_of(take)
    'an4, tens and more'
    """
    if take.source == "an4":
        return "an4, tens and more" if {*take.words} & {*TENS[2:]} else "an4, to nineteen"
    if take.source == "coswara":
        return "coswara, teens" if {*take.words} & {*TEENS[3:]} else "coswara, other words"
    return f"{take.source}, digits"


def people_in(takes: Sequence[NumberTake]) -> int:
    """How many people spoke them."""
    return len({(take.source, take.speaker) for take in takes})
