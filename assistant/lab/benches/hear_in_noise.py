"""What `footplate bench hear --part kinds` measures: each ear and the whole, noise by noise.

Synthetic voices say product sentences, people's digits are joined to pressures, and others talk;
each ear stands behind the house's decision, without a boiler. Knows voices, noises and ears.
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
from assistant.lab.benches.hear_people import level_name
from assistant.lab.benches.talk_decisions import (
    HEADER,
    OTHER_TALK,
    PRESSURE,
    SENTENCES,
    VOICES,
    DecisionTrial,
    Outcomes,
    Utterances,
    judged,
    said,
)
from assistant.messages import SPEECH_RATE_HZ, Report
from assistant.recogniser.base import Sound
from assistant.recogniser.pipeline import RecognitionPipeline
from assistant.recogniser.snr import Noise
from assistant.simulator.noise import Surroundings
from assistant.simulator.voices import said_in_a_room

LEVELS = (20.0, 10.0, 5.0)
_DIGITS = 240  # of people, joined to pressures, one in `share` of them
_AFTER_S = 1.4  # a microphone goes on after the last word, and the detector waits for the end
_LEGEND = (
    "right: taken at once, and meant; asked / asked-: put back as a question, the right thing or "
    "another; again: asked for again; ignored: passed over though meant; wrong: taken at once, and "
    "not meant; others: other talk, and how much of it was taken at once or asked about (again "
    "included); seconds from the end of speech, once it is found, to the decision"
)


@dataclass(frozen=True, slots=True)
class NoiseBench:
    """What to measure. share: one in so many of the trials. ears: by name, none for all.

    recordings: folder of people's recordings, None where there are none.
    """

    noise: Noise
    kinds: Sequence[str]
    levels: Sequence[float] = LEVELS
    share: int = 40
    ears: Sequence[str] = ()
    recordings: Path | None = None


def digits(recordings: Path, where: Surroundings, share: int) -> Iterator[DecisionTrial]:
    """Pressures of 0 to 200 said digit by digit by people."""
    people = bench_sounds.speakers(recordings)
    for number in range(0, _DIGITS, share):
        speaker = people[number // share % len(people)]
        yield digits_in_noise(recordings, speaker, where, [3, number])


def digits_in_noise(
    recordings: Path, speaker: str, where: Surroundings, seed: Sequence[int]
) -> DecisionTrial:
    """A pressure of 0 to 200 said digit by digit by one person."""
    rng = np.random.default_rng(seed)
    value = int(rng.integers(0, 201))
    sound = bench_sounds.reading(recordings, speaker, [int(d) for d in str(value)], rng)
    quiet = bench_sounds.ROOM_TONE * rng.standard_normal(int(_AFTER_S * SPEECH_RATE_HZ))
    whole = np.concatenate([sound, quiet]).astype(np.float32)
    return DecisionTrial(
        where.with_noise(whole, rng), PRESSURE, Report("pressure", float(value), "psi")
    )


def not_meant(recordings: Path | None, where: Surroundings, share: int) -> Iterator[DecisionTrial]:
    """Other talk in each voice and people's orders to a coffee machine, to a steam-up's questions.

    One in `share` of either.
    """
    said_by = ((voice, words) for voice in VOICES for words in OTHER_TALK)
    for number, (voice, words) in enumerate(said_by):
        if (number + number // len(OTHER_TALK)) % share == 0:
            rng = np.random.default_rng([17, number])
            sound = said_in_a_room(voice, words, rng)
            yield _to_a_question(sound, number, where, rng)
    for number, file in enumerate(bench_sounds.orders(recordings)):
        if number % share == 0:
            rng = np.random.default_rng([19, number])
            yield _to_a_question(read_samples(file), number, where, rng)


def _to_a_question(
    sound: Sound, number: int, where: Surroundings, rng: np.random.Generator
) -> DecisionTrial:
    asked = SENTENCES[number % len(SENTENCES)][1]
    return DecisionTrial(where.with_noise(sound, rng), asked, None)


def noise_row(name: str, meant: Outcomes, others: Outcomes) -> str:
    """One row of the table: what was meant, then what was not."""
    trials = max(1, sum(others.counts.values()))
    asked = sum(others.counts[kind] for kind in ("asked-", "again"))
    share = 100 / trials
    return (
        f"{meant.line(name)}{trials:>8}{share * others.counts['wrong']:>8.1f}{share * asked:>8.1f}"
    )


TOP = f"{HEADER}{'others':>8}{'taken%':>8}{'asked%':>8}"


def bench_lines(wanted: NoiseBench, utterances: Utterances) -> Iterator[str]:
    """The tables, line by line; at the end what was taken wrongly."""
    yield _LEGEND
    wrong: list[str] = []
    for name, made in recognisers.each(wanted.ears):
        yield f"ear: {name}" + (f" ({made})" if isinstance(made, str) else "")
        if isinstance(made, str):
            continue
        hearer = RecognitionPipeline(made)
        yield TOP
        for kind in wanted.kinds:
            for snr_db in wanted.levels:
                where = Surroundings(snr_db, kind, wanted.noise)
                meant = judged(hearer, utterances, _meant(wanted, where))
                others = judged(
                    hearer, utterances, not_meant(wanted.recordings, where, wanted.share)
                )
                place = f"{name}, {kind} {level_name(snr_db)}"
                wrong += [f"{place}: {line}" for line in (*meant.wrong, *others.wrong)]
                yield noise_row(f"{kind[-18:]} {level_name(snr_db)}", meant, others)
    yield from (f"wrong: {line}" for line in wrong)


def _meant(wanted: NoiseBench, where: Surroundings) -> Iterable[DecisionTrial]:
    sentences = said(SENTENCES, where, wanted.share, 5)
    if wanted.recordings is None or not (wanted.recordings / "digits").is_dir():
        return sentences
    return chain(sentences, digits(wanted.recordings, where, wanted.share))
