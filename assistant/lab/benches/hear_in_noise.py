"""`footplate bench hear --part kinds`: each recogniser, noise by noise.

Synthetic voices say product sentences, people's digits are joined to pressures, and others talk;
each recogniser's n-best is decided upon as in a session, without a boiler.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from pathlib import Path

import numpy as np

from assistant.devices.sound import read_samples
from assistant.lab.benches import recognisers
from assistant.lab.benches import recordings as bench_sounds
from assistant.lab.benches.decision_outcomes import DECISIONS, Outcomes, decide_trials
from assistant.lab.benches.hear_people import level_name
from assistant.lab.benches.table import Column
from assistant.lab.benches.talk_trials import (
    OTHER_TALK,
    PRESSURE,
    SENTENCES,
    VOICES,
    DecisionTrial,
    Utterances,
    sentence_trials,
)
from assistant.messages import SPEECH_RATE_HZ, Report
from assistant.recogniser.base import Sound
from assistant.recogniser.pipeline import RecognitionPipeline
from assistant.recogniser.snr import Noise
from assistant.simulator.noise import Surroundings
from assistant.simulator.voices import said_in_a_room

LEVELS = (20.0, 10.0, 5.0)
_PRESSURES = 240  # joined of people's digits; one in `share` of them is tried
_TAIL_S = 1.4  # of silence after the last word, which the detector needs to find the end
_LEGEND = (
    "right: accepted at once, and meant; asked / asked-: read back as a question, right "
    "or wrong; again: asked for again; ignored: passed over though meant; wrong: accepted at "
    "once, and not meant; others: other talk, and how much of it was accepted at once or asked "
    "about (again included); seconds from the end of speech, once it is found, to the decision"
)


@dataclass(frozen=True, slots=True)
class NoiseBench:
    """What to measure."""

    noise: Noise
    kinds: Sequence[str]  # of noise
    levels: Sequence[float] = LEVELS  # speech over noise [dB]
    share: int = 40  # one in so many of the trials
    recognisers: Sequence[str] = ()  # by name; all where none is named
    recordings: Path | None = None  # folder of people's recordings, if there is one


def digit_trials(recordings: Path, where: Surroundings, share: int) -> Iterator[DecisionTrial]:
    """Pressures of 0 to 200, spoken digit by digit by people."""
    people = bench_sounds.speakers(recordings)
    for number in range(0, _PRESSURES, share):
        speaker = people[number // share % len(people)]
        yield digit_trial(recordings, speaker, where, [3, number])


def digit_trial(
    recordings: Path, speaker: str, where: Surroundings, seed: Sequence[int]
) -> DecisionTrial:
    """A pressure of 0 to 200, spoken digit by digit by one person."""
    rng = np.random.default_rng(seed)
    value = int(rng.integers(0, 201))
    sound = bench_sounds.reading(recordings, speaker, [int(d) for d in str(value)], rng)
    tail = bench_sounds.ROOM_TONE * rng.standard_normal(int(_TAIL_S * SPEECH_RATE_HZ))
    whole = np.concatenate([sound, tail]).astype(np.float32)
    return DecisionTrial(
        where.with_noise(whole, rng), PRESSURE, Report("pressure", float(value), "psi")
    )


def background_trials(
    recordings: Path | None, where: Surroundings, share: int
) -> Iterator[DecisionTrial]:
    """Other talk in each voice and people's orders for drinks, to the questions of a steam-up.

    One in `share` of either.
    """
    spoken = ((voice, words) for voice in VOICES for words in OTHER_TALK)
    for number, (voice, words) in enumerate(spoken):
        if (number + number // len(OTHER_TALK)) % share == 0:
            rng = np.random.default_rng([17, number])
            sound = said_in_a_room(voice, words, rng)
            yield _background_trial(sound, number, where, rng)
    for number, file in enumerate(bench_sounds.orders(recordings)):
        if number % share == 0:
            rng = np.random.default_rng([19, number])
            yield _background_trial(read_samples(file), number, where, rng)


def _background_trial(
    sound: Sound, number: int, where: Surroundings, rng: np.random.Generator
) -> DecisionTrial:
    question = SENTENCES[number % len(SENTENCES)][1]
    return DecisionTrial(where.with_noise(sound, rng), question, None)


BY_NOISE = DECISIONS.with_columns(
    Column("others", 8), Column("taken%", 8, ".1f"), Column("asked%", 8, ".1f")
)


def noise_figures(meant: Outcomes, others: Outcomes) -> tuple[float, ...]:
    """A row of `BY_NOISE`: what was meant, then the other talk."""
    trials = max(1, sum(others.counts.values()))
    asked = sum(others.counts[kind] for kind in ("asked-", "again"))
    share = 100 / trials
    return (*meant.figures(), trials, share * others.counts["wrong"], share * asked)


def bench_lines(plan: NoiseBench, utterances: Utterances) -> Iterator[str]:
    """The tables, line by line; at the end what was taken wrongly."""
    yield _LEGEND
    wrong: list[str] = []
    for name, loaded in recognisers.each(plan.recognisers):
        yield f"ear: {name}" + (f" ({loaded})" if isinstance(loaded, str) else "")
        if isinstance(loaded, str):
            continue
        pipeline = RecognitionPipeline(loaded)
        yield BY_NOISE.header()
        for kind in plan.kinds:
            for snr_db in plan.levels:
                where = Surroundings(snr_db, kind, plan.noise)
                meant = decide_trials(pipeline, utterances, _meant(plan, where))
                others = decide_trials(
                    pipeline, utterances, background_trials(plan.recordings, where, plan.share)
                )
                place = f"{name}, {kind} {level_name(snr_db)}"
                wrong += [f"{place}: {line}" for line in (*meant.wrong, *others.wrong)]
                yield BY_NOISE.row(
                    f"{kind[-18:]} {level_name(snr_db)}", *noise_figures(meant, others)
                )
    yield from (f"wrong: {line}" for line in wrong)


def _meant(plan: NoiseBench, where: Surroundings) -> Iterable[DecisionTrial]:
    sentences = sentence_trials(SENTENCES, where, plan.share, 5)
    if plan.recordings is None or not (plan.recordings / "digits").is_dir():
        return sentences
    return chain(sentences, digit_trials(plan.recordings, where, plan.share))
