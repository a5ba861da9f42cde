"""Gathering what to learn from: synthetic voices over our grammar, people's orders in words.

Knows the recordings' folder and an ear that writes the orders down; the synthesiser is handed in.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import numpy as np

from assistant.devices.sound import read_samples
from assistant.enrolment.clip_corpus import (
    DIGIT,
    Corpus,
    LabelledClip,
    order_clips,
    people_digits,
    read_clips,
    write_clips,
)
from assistant.errors import InputWrongError
from assistant.grammar.numbers import DIGITS, Words
from assistant.grammar.phrases import PROMPTS
from assistant.lab.benches.drinks_grammar import Orders, as_meaning
from assistant.lab.benches.hear_people import order_names
from assistant.lab.benches.recordings import order_labels
from assistant.lab.tuning.number_readers import readers_clips
from assistant.lab.tuning.sentences import others, ours
from assistant.lab.tuning.synthetic_voices import (
    JUDGES,
    UNHEARD,
    Speak,
    spoken_clips,
    spoken_digits,
    usable,
)
from assistant.recogniser.base import Sound
from assistant.recogniser.constrained_whisper import ConstrainedWhisper, load_model

OURS, OTHERS = 1900, 1500
_JUDGED = 240, 120
# With a bare number most often stands the question for a pressure, or none.
NUMBER_PROMPTS = ("any", "pressure", "pressure", "answer", "any", "tank", "water")


def gather(
    folder: Path,
    recordings: Path | None,
    speak: Speak,
    seed: int,
    tell: Callable[[str], None],
    counts: tuple[int, int] = (OURS, OTHERS),
    numbers: Sequence[Path] = (),
) -> None:
    """Make the gathered folder; WorldFailedError where no synthesiser is. numbers: folders
    of number words, each read by a person, see `reader`."""
    groups = usable(speak)
    tell(f"voices: {', '.join(f'{name} {len(voices)}' for name, voices in groups.items())}")
    rng = np.random.default_rng([seed, 0])
    clips: list[LabelledClip] = []
    for is_ours, said in ((True, ours(counts[0], rng)), (False, others(counts[1], rng))):
        for clip in spoken_clips(said, speak, groups, rng, is_ours):
            clips.append(clip)
            if len(clips) % 500 == 0:
                tell(f"{len(clips)} sentences spoken")
    clips += spoken_digits(speak, groups)
    clips += readers_clips(numbers, np.random.default_rng([seed, 8]))
    clips += unheard(speak, np.random.default_rng([seed, 9]))
    written = dict(orders_in_words(recordings, tell)) if recordings is not None else {}
    write_clips(folder, clips, written)
    tell(f"{len(clips)} sentences and {len(written)} orders in {folder}")


def unheard(speak: Speak, rng: np.random.Generator) -> Iterator[LabelledClip]:
    """Sentences to judge by, in voices that nothing is learnt from."""
    groups = usable(speak, {UNHEARD: JUDGES})
    yield from spoken_clips(ours(_JUDGED[0], rng), speak, groups, rng, True)
    yield from spoken_clips(others(_JUDGED[1], rng), speak, groups, rng, False)


def orders_in_words(recordings: Path, tell: Callable[[str], None]) -> Iterator[tuple[str, Words]]:
    """The words of each order: what the plain ear hears of those that mean what the label says."""
    ear, grammar = ConstrainedWhisper(load_model(changes=None)), Orders()
    labels = order_labels(recordings)
    for at, name in enumerate(sorted(labels)):
        opinion = ear.hear(read_samples(recordings / "commands" / name), grammar)
        wanted = as_meaning(labels[name])
        words = [a.words for a in opinion.alternatives if a.meaning == wanted]
        if words:
            yield name, tuple(words[0].split())
        if at % 80 == 79:
            tell(f"{at + 1} orders written down")


def corpus(gathered: Path | None, recordings: Path | None, all_orders: bool = False) -> Corpus:
    """Everything to learn from; InputWrongError when there is nothing.

    all_orders: with those that `footplate bench hear` judges by.
    """
    every, words = read_clips(gathered) if gathered is not None else ((), {})
    clips = tuple(clip for clip in every if clip.prompt != DIGIT and clip.group != UNHEARD)
    digits: dict[str, dict[int, list[Sound]]] = {}
    for clip in every:
        if clip.prompt == DIGIT:
            own = digits.setdefault(f"{clip.group}/{clip.speaker}", {})
            own.setdefault(DIGITS.index(clip.words[0]), []).append(clip.sound)
    if recordings is not None:
        digits.update(people_digits(recordings))
        judged = set() if all_orders else set(order_names(recordings))
        learnt = {name: own for name, own in words.items() if name not in judged}
        clips = (*clips, *order_clips(recordings, learnt, Orders().prompt))
    if not clips and not digits:
        raise InputWrongError("nothing to learn from: name --recordings or --gathered")
    prompts = tuple(PROMPTS[kind] for kind in NUMBER_PROMPTS)  # type: ignore[index]
    return Corpus(tuple(clips), digits, prompts)
