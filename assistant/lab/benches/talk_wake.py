"""What `footplate bench talk --part wake` measures: is the wake phrase heard, and only it?

Knows voices, noises, the ear and the decision; no session, so that a call lasts for one utterance.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

import numpy as np

from assistant.grammar.wake_phrase import CALL
from assistant.lab.benches.hear_people import level_name
from assistant.lab.benches.talk_decisions import (
    ANY,
    PRESSURE,
    SENTENCES,
    VOICES,
    DecisionTrial,
    Utterances,
    not_for_us,
    said,
)
from assistant.messages import Expected, Heard, Meaning
from assistant.recogniser.pipeline import RecognitionPipeline
from assistant.recogniser.snr import Noise
from assistant.simulator.noise import Surroundings, engine_noise
from assistant.simulator.voices import said_in_a_room
from assistant.understanding.decide import decide

_LEVELS: tuple[float | None, ...] = (None, 10.0, 5.0)
# Near to "engine minder", and what is said beside any engine.
NEAR = (
    "mind the engine", "the engine is mine", "an engine in order", "the engine driver",
    "engine and tender", "that engine is kinder on coal", "the engine winder", "mind her",
    "engines need minding", "i minded an engine like that", "engine number nine", "a fine engine",
)  # fmt: skip
COLUMNS = ("called", "right", "asked", "again", "passed", "wrong")
WAKE_HEADER = f"{'':<28}{'n':>5}" + "".join(f"{column + '%':>9}" for column in COLUMNS)
_LEGEND = (
    "called: heard to begin with the phrase; the rest is passed over. right: taken at once, and "
    "meant; asked, again: put back as a question, asked for again; wrong: taken at once, not meant"
)


class WakeRow:
    """One row of the table, counted."""

    def __init__(self) -> None:
        self.counts: Counter[str] = Counter()
        self.trials = 0
        self.wrong: list[str] = []

    def add(self, heard: Sequence[Heard], expected: Expected, meant: Meaning | None) -> None:
        """One utterance of somebody, in as many stretches as the detector found."""
        self.trials += 1
        self.counts["called"] += any(one.called for one in heard)
        kinds, awake = {"passed"}, False
        for one in heard:
            if not (one.called or awake):
                continue
            decision = decide(one, expected)
            same = decision.meaning is not None and decision.meaning == meant
            awake = decision.kind == "accept" and decision.meaning == CALL != meant
            # called by one stretch and told by the next: asked "yes?" at worst
            kinds.add("again" if awake and meant is not None else _column(decision.kind, same))
        column = max(kinds, key=BY_WEIGHT.index)
        self.counts[column] += 1
        if column == "wrong":
            self.wrong.append(f"{meant or 'nothing of ours'} heard as {[h.text for h in heard]}")

    def line(self, name: str) -> str:
        """In per cent."""
        share = 100 / max(1, self.trials)
        columns = "".join(f"{share * self.counts[column]:>9.1f}" for column in COLUMNS)
        return f"{name:<28}{self.trials:>5}{columns}"


BY_WEIGHT = ("passed", "again", "asked", "right", "wrong")


def _column(kind: str, meant: bool) -> str:
    if kind == "accept":
        return "right" if meant else "wrong"
    return {"confirm": "asked", "again": "again"}.get(kind, "passed")


def _alone(phrase: str, where: Surroundings, share: int) -> Iterator[DecisionTrial]:
    """Each voice calls a few times, to a question and out of the blue."""
    for number in range(-(-len(VOICES) * 16 // share)):
        voice, expected = VOICES[number % len(VOICES)], (ANY, PRESSURE)[number % 2]
        rng = np.random.default_rng([7, number])
        sound = said_in_a_room(voice, phrase, rng)
        yield DecisionTrial(where.with_noise(sound, rng), expected, CALL)


def near(where: Surroundings, share: int) -> Iterator[DecisionTrial]:
    """What is near to the phrase, in every voice; one in `share` of that."""
    for number, (voice, words) in enumerate((v, words) for v in VOICES for words in NEAR):
        if (number + number // len(NEAR)) % share:
            continue
        rng = np.random.default_rng([11, number])
        sound = said_in_a_room(voice, words, rng)
        yield DecisionTrial(where.with_noise(sound, rng), (ANY, PRESSURE)[number % 2], None)


def noise_alone(kind: str, noise: Noise, share: int) -> Iterator[DecisionTrial]:
    """Forty minutes of the engine and nobody, one in `share` of them."""
    for number in range(-(-240 // share)):
        rng = np.random.default_rng([13, number])
        yield DecisionTrial(noise(kind, 10.0, rng), (ANY, PRESSURE)[number % 2], None)


def bench_lines(
    hearer: RecognitionPipeline,
    utterances: Utterances,
    recordings: Path | None,
    share: int = 2,
    kinds: Sequence[str] = ("mix",),
    noise: Noise = engine_noise,
) -> Iterator[str]:
    """The tables, line by line. The hearer must have a wake phrase."""
    assert hearer.wake is not None
    phrase = hearer.wake.phrase
    yield f"the phrase: {phrase}"
    yield _LEGEND
    for kind in kinds:
        yield f"beside {kind}"
        yield WAKE_HEADER
        for snr_db in _LEVELS:
            where, level = Surroundings(snr_db, kind, noise), level_name(snr_db)
            rows: tuple[tuple[str, Iterable[DecisionTrial]], ...] = (
                ("alone", _alone(phrase, where, share)),
                ("in one breath", said(SENTENCES, where, share, 5, f"{phrase}, ")),
                ("sentences without it", said(SENTENCES, where, share, 5)),
                ("other talk", not_for_us(recordings, where, 600 // share)),
                ("near to it", near(where, share)),
            )
            for name, trials in rows:
                row = _row(hearer, utterances, trials)
                yield row.line(f"{name} {level}")
                yield from (f"wrong: {line}" for line in row.wrong)
        yield _row(hearer, utterances, noise_alone(kind, noise, share)).line("ten seconds of it")


def _row(
    hearer: RecognitionPipeline, utterances: Utterances, trials: Iterable[DecisionTrial]
) -> WakeRow:
    row = WakeRow()
    for trial in trials:
        heard = [hearer.heard(one, trial.expected, 0.0) for one in utterances(trial.sound)]
        row.add(heard, trial.expected, trial.meant)
    return row
