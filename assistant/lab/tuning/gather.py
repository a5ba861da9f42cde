"""Gathering the training data: synthetic voices over the grammar, people's orders in words.

Knows the recordings' folder and a recogniser that transcribes the orders; the synthesiser is handed
in.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import numpy as np

from assistant.devices.sound import read_samples
from assistant.enrolment.clip_corpus import LabelledClip
from assistant.errors import InputWrongError
from assistant.grammar.numbers import DIGITS, Words
from assistant.grammar.phrases import PROMPTS
from assistant.lab.benches.drinks_grammar import Orders, as_meaning
from assistant.lab.benches.hear_people import order_names
from assistant.lab.benches.recordings import order_labels
from assistant.lab.tuning.gathered_clips import order_clips, read_clips, write_clips
from assistant.lab.tuning.number_readers import readers_clips
from assistant.lab.tuning.people_clips import clips_to_learn, words_to_learn
from assistant.lab.tuning.sentences import grammar_sentences, other_sentences
from assistant.lab.tuning.synthetic_voices import (
    UNHEARD,
    UNHEARD_VOICES,
    Speak,
    spoken_clips,
    spoken_digits,
    usable,
)
from assistant.lab.tuning.training_corpus import DIGIT, TrainingCorpus, WordTakes
from assistant.recogniser.base import Sound
from assistant.recogniser.constrained_whisper import ConstrainedWhisper, load_model

COUNTS = 1900, 1500  # sentences of the grammar, other sentences
_UNHEARD_COUNTS = 240, 120
# A bare number mostly answers the question for a pressure, or none.
NUMBER_PROMPTS = ("any", "pressure", "pressure", "answer", "any", "tank", "water")


def gather(
    folder: Path,
    recordings: Path | None,
    speak: Speak,
    seed: int,
    tell: Callable[[str], None],
    counts: tuple[int, int] = COUNTS,
    numbers: Sequence[Path] = (),
) -> None:
    """Make the gathered folder; WorldFailedError where there is no synthesiser.

    numbers: folders of number words, each read by a person, see `number_readers`.
    """
    groups = usable(speak)
    tell(f"voices: {', '.join(f'{name} {len(voices)}' for name, voices in groups.items())}")
    rng = np.random.default_rng([seed, 0])
    clips: list[LabelledClip] = []
    wanted = (True, grammar_sentences(counts[0], rng)), (False, other_sentences(counts[1], rng))
    for in_grammar, sentences in wanted:
        for clip in spoken_clips(sentences, speak, groups, rng, in_grammar):
            clips.append(clip)
            if len(clips) % 500 == 0:
                tell(f"{len(clips)} sentences spoken")
    clips += spoken_digits(speak, groups)
    clips += readers_clips(numbers, np.random.default_rng([seed, 8]))
    clips += unheard(speak, np.random.default_rng([seed, 9]))
    orders = dict(transcribed_orders(recordings, tell)) if recordings is not None else {}
    write_clips(folder, clips, orders)
    tell(f"{len(clips)} sentences and {len(orders)} orders in {folder}")


def unheard(speak: Speak, rng: np.random.Generator) -> Iterator[LabelledClip]:
    """Sentences to evaluate on, in voices that are not trained on."""
    groups = usable(speak, {UNHEARD: UNHEARD_VOICES})
    yield from spoken_clips(grammar_sentences(_UNHEARD_COUNTS[0], rng), speak, groups, rng, True)
    yield from spoken_clips(other_sentences(_UNHEARD_COUNTS[1], rng), speak, groups, rng, False)


def transcribed_orders(
    recordings: Path, tell: Callable[[str], None]
) -> Iterator[tuple[str, Words]]:
    """The words of each order: what the plain recogniser hears that means what the label says."""
    recogniser, grammar = ConstrainedWhisper(load_model(adapters=None)), Orders()
    labels = order_labels(recordings)
    for at, name in enumerate(sorted(labels)):
        n_best = recogniser.hear(read_samples(recordings / "commands" / name), grammar)
        wanted = as_meaning(labels[name])
        words = [a.words for a in n_best.alternatives if a.meaning == wanted]
        if words:
            yield name, tuple(words[0].split())
        if at % 80 == 79:
            tell(f"{at + 1} orders written down")


def corpus(
    gathered: Path | None, recordings: Path | None, all_orders: bool = False
) -> TrainingCorpus:
    """Everything to learn from; InputWrongError when there is nothing.

    all_orders: also those that `footplate bench hear` evaluates on.
    """
    every, words = read_clips(gathered) if gathered is not None else ((), {})
    clips = tuple(clip for clip in every if clip.prompt != DIGIT and clip.group != UNHEARD)
    digits: dict[str, dict[int, list[Sound]]] = {}
    words_of_people: dict[str, WordTakes] = {}
    for clip in every:
        if clip.prompt == DIGIT:
            takes = digits.setdefault(f"{clip.group}/{clip.speaker}", {})
            takes.setdefault(DIGITS.index(clip.words[0]), []).append(clip.sound)
    if recordings is not None:
        words_of_people = words_to_learn(recordings)
        clips = (*clips, *clips_to_learn(recordings))
        held_out = set() if all_orders else set(order_names(recordings))
        trained_on = {name: order for name, order in words.items() if name not in held_out}
        clips = (*clips, *order_clips(recordings, trained_on, Orders().prompt))
    if not (clips or digits):
        raise InputWrongError("nothing to learn from: name --recordings or --gathered")
    prompts = tuple(PROMPTS[kind] for kind in NUMBER_PROMPTS)  # type: ignore[index]
    return TrainingCorpus(clips, prompts, digits, words_of_people)
