"""`footplate bench talk --part wake`: is the wake phrase heard, and nothing else taken for it?

There is no session, so a call lasts for one utterance.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

import numpy as np

from assistant.grammar.wake_phrase import CALL
from assistant.lab.benches.hear_people import level_name
from assistant.lab.benches.table import Column, ResultTable
from assistant.lab.benches.talk_trials import (
    ANY,
    PRESSURE,
    SENTENCES,
    VOICES,
    DecisionTrial,
    Utterances,
    other_talk_trials,
    sentence_trials,
)
from assistant.messages import Expected, Heard, Meaning
from assistant.recogniser.pipeline import RecognitionPipeline
from assistant.recogniser.snr import Noise
from assistant.simulator.noise import Surroundings, engine_noise
from assistant.simulator.voices import said_in_a_room
from assistant.understanding.context import Context
from assistant.understanding.decide import decide

_LEVELS: tuple[float | None, ...] = (None, 10.0, 5.0)
# Phrases that resemble "engine minder", some of them said beside any engine.
NEAR_PHRASES = (
    "mind the engine", "the engine is mine", "an engine in order", "the engine driver",
    "engine and tender", "that engine is kinder on coal", "the engine winder", "mind her",
    "engines need minding", "i minded an engine like that", "engine number nine", "a fine engine",
)  # fmt: skip
COLUMNS = ("called", "right", "asked", "again", "passed", "wrong")
WAKE_TABLE = ResultTable(28, Column("n", 5), *(Column(f"{name}%", 9, ".1f") for name in COLUMNS))
_LEGEND = (
    "called: heard to begin with the phrase; the rest is passed over. right: accepted at once, and "
    "meant; asked, again: read back as a question, asked for again; wrong: accepted at once, not "
    "meant"
)
# An utterance that falls into several pieces counts as the last of these.
_PRECEDENCE = ("passed", "again", "asked", "right", "wrong")


class WakeTally:
    """What became of the utterances of one kind."""

    def __init__(self) -> None:
        self.counts: Counter[str] = Counter()  # of each of `COLUMNS`
        self.trials = 0
        self.wrong: list[str] = []  # a line for each meaning taken wrongly

    def add(self, heard: Sequence[Heard], expected: Expected, meant: Meaning | None) -> None:
        """One utterance, in as many pieces as the detector found."""
        self.trials += 1
        self.counts["called"] += any(piece.called for piece in heard)
        columns, awake = {"passed"}, False
        for piece in heard:
            if not (piece.called or awake):
                continue
            decision = decide(piece, Context(expected))
            same = decision.meaning is not None and decision.meaning == meant
            awake = decision.kind == "accept" and decision.meaning == CALL != meant
            # the phrase in one piece and the words in the next: at worst answered with "yes?"
            columns.add("again" if awake and meant is not None else _column(decision.kind, same))
        column = max(columns, key=_PRECEDENCE.index)
        self.counts[column] += 1
        if column == "wrong":
            self.wrong.append(f"{meant or 'other talk'} heard as {[h.text for h in heard]}")

    def row(self, name: str) -> str:
        """Its row of the table."""
        share = 100 / max(1, self.trials)
        shares = (share * self.counts[column] for column in COLUMNS)
        return WAKE_TABLE.row(name, self.trials, *shares)


def _column(kind: str, correct: bool) -> str:
    if kind == "accept":
        return "right" if correct else "wrong"
    return {"confirm": "asked", "again": "again"}.get(kind, "passed")


def _phrase_trials(phrase: str, where: Surroundings, share: int) -> Iterator[DecisionTrial]:
    """Each voice says the phrase a few times, with and without a question open."""
    for number in range(-(-len(VOICES) * 16 // share)):
        voice, expected = VOICES[number % len(VOICES)], (ANY, PRESSURE)[number % 2]
        rng = np.random.default_rng([7, number])
        sound = said_in_a_room(voice, phrase, rng)
        yield DecisionTrial(where.with_noise(sound, rng), expected, CALL)


def near_phrase_trials(where: Surroundings, share: int) -> Iterator[DecisionTrial]:
    """Phrases that resemble it, in every voice; one in `share` of them."""
    for number, (voice, words) in enumerate((v, words) for v in VOICES for words in NEAR_PHRASES):
        if (number + number // len(NEAR_PHRASES)) % share:
            continue
        rng = np.random.default_rng([11, number])
        sound = said_in_a_room(voice, words, rng)
        yield DecisionTrial(where.with_noise(sound, rng), (ANY, PRESSURE)[number % 2], None)


def noise_only_trials(kind: str, noise: Noise, share: int) -> Iterator[DecisionTrial]:
    """Forty minutes of the engine alone, in pieces of ten seconds; one in `share` of them."""
    for number in range(-(-240 // share)):
        rng = np.random.default_rng([13, number])
        yield DecisionTrial(noise(kind, 10.0, rng), (ANY, PRESSURE)[number % 2], None)


def bench_lines(
    pipeline: RecognitionPipeline,
    utterances: Utterances,
    recordings: Path | None,
    share: int = 2,
    kinds: Sequence[str] = ("mix",),
    noise: Noise = engine_noise,
) -> Iterator[str]:
    """The tables, line by line. The pipeline must have a wake phrase."""
    assert pipeline.wake is not None
    phrase = pipeline.wake.phrase
    yield f"the phrase: {phrase}"
    yield _LEGEND
    for kind in kinds:
        yield f"beside {kind}"
        yield WAKE_TABLE.header()
        for snr_db in _LEVELS:
            where, level = Surroundings(snr_db, kind, noise), level_name(snr_db)
            rows: tuple[tuple[str, Iterable[DecisionTrial]], ...] = (
                ("alone", _phrase_trials(phrase, where, share)),
                ("in one breath", sentence_trials(SENTENCES, where, share, 5, f"{phrase}, ")),
                ("sentences without it", sentence_trials(SENTENCES, where, share, 5)),
                ("other talk", other_talk_trials(recordings, where, 600 // share)),
                ("near to it", near_phrase_trials(where, share)),
            )
            for name, trials in rows:
                tally = _tally(pipeline, utterances, trials)
                yield tally.row(f"{name} {level}")
                yield from (f"wrong: {line}" for line in tally.wrong)
        yield _tally(pipeline, utterances, noise_only_trials(kind, noise, share)).row(
            "ten seconds of it"
        )


def _tally(
    pipeline: RecognitionPipeline, utterances: Utterances, trials: Iterable[DecisionTrial]
) -> WakeTally:
    tally = WakeTally()
    for trial in trials:
        heard = [pipeline.heard(sound, trial.expected, 0.0) for sound in utterances(trial.sound)]
        tally.add(heard, trial.expected, trial.meant)
    return tally
