"""`footplate bench talk`: sound in, decision out, in many voices beside an engine.

Nothing is believed of a boiler; what its gauges cannot show may be asked again, as in a session.
Times need an idle machine.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path
from time import perf_counter

import numpy as np

from assistant.lab.benches.decision_outcomes import DECISIONS, LEGEND, decide_trials
from assistant.lab.benches.hear_people import level_name
from assistant.lab.benches.talk_trials import (
    ANY,
    PRESSURE,
    SENTENCES,
    DecisionTrial,
    Utterances,
    other_talk_trials,
    sentence_trials,
    teen_trials,
)
from assistant.recogniser.pipeline import RecognitionPipeline
from assistant.recogniser.snr import Noise
from assistant.simulator.noise import Surroundings, engine_noise
from assistant.understanding.context import Context, Objection, no_objection
from assistant.understanding.decide import decide

_LEVELS: tuple[float | None, ...] = (None, 20.0, 10.0, 5.0)
NOISE_KINDS = ("mix", "blower", "chuff", "valve", "wind", "clank")


def noise_only_lines(
    utterances: Utterances,
    hours: float,
    pipeline: RecognitionPipeline,
    kinds: Sequence[str] = NOISE_KINDS,
    noise: Noise = engine_noise,
) -> Iterator[str]:
    """Hours of engine noise alone: what passes for speech in it, and what is decided of that."""
    minutes = max(1, round(hours * 60 / len(kinds)))
    for number, kind in enumerate(kinds):
        decisions: Counter[str] = Counter()
        begin = perf_counter()
        for minute in range(minutes):
            rng = np.random.default_rng([31, number, minute])
            for sound in utterances(noise(kind, 60.0, rng)):
                for expected in (ANY, PRESSURE):
                    heard = pipeline.heard(sound, expected, 0.0)
                    decisions[decide(heard, Context(expected)).kind] += 1
        spent_s = perf_counter() - begin
        yield (
            f"{kind:<8}{minutes} min of noise: {dict(decisions) or 'no speech found'}"
            f" ({spent_s / minutes / 60:.1%} of a core)"
        )


def bench_lines(
    pipeline: RecognitionPipeline,
    utterances: Utterances,
    recordings: Path | None,
    part: str,
    share: int = 2,
    kinds: Sequence[str] = ("mix",),
    noise: Noise = engine_noise,
    limits: Objection = no_objection,
) -> Iterator[str]:
    """The tables of one part, line by line: sentences, others or teens, over each kind of noise.

    Without noise they are measured once. limits: see `decide_trials`.
    """
    yield LEGEND
    yield DECISIONS.header()
    wrong: list[str] = []
    for kind in kinds:
        if tuple(kinds) != ("mix",):
            yield f"beside {kind}"
        for snr_db in _PARTS[part][1]:
            if snr_db is None and kind != kinds[0]:
                continue
            trials = _trials(part, share, recordings, snr_db, kind, noise)
            outcomes = decide_trials(pipeline, utterances, trials, limits=limits)
            wrong += outcomes.wrong
            yield DECISIONS.row(f"{_PARTS[part][0]} {level_name(snr_db)}", *outcomes.figures())
    yield from (f"wrong: {line}" for line in wrong)


_PARTS: dict[str, tuple[str, tuple[float | None, ...]]] = {
    "sentences": ("product sentences", _LEVELS),
    "others": ("other talk", (None, 10.0)),
    "teens": ("teens and tens", (10.0,)),
}


def _trials(
    part: str, share: int, recordings: Path | None, snr_db: float | None, kind: str, noise: Noise
) -> Iterator[DecisionTrial]:
    where = Surroundings(snr_db, kind, noise)
    if part == "others":
        return other_talk_trials(recordings, where, 600 // share)
    if part == "teens":
        return teen_trials(where, 600 // share)
    return sentence_trials(SENTENCES, where, share, 5)
