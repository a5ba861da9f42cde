"""What the benches say to the assistant: sentences, other talk, teens; in many voices and noises.

Knows voices, noises and the grammar; no recogniser.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from assistant.devices.sound import read_samples
from assistant.grammar.numbers import digit_by_digit, spoken_forms
from assistant.grammar.phrases import grammar
from assistant.lab.benches import recordings as bench_sounds
from assistant.messages import Expected, Meaning, Report
from assistant.recogniser.base import Sound
from assistant.simulator.noise import Surroundings
from assistant.simulator.voices import SynthesiserVoice, said_in_a_room

VOICES = (
    *(SynthesiserVoice("flite", name) for name in ("rms", "slt", "awb", "kal16")),
    *(
        SynthesiserVoice("espeak-ng", f"en-us+{kind}")
        for kind in ("m1", "m2", "m3", "m4", "m5", "m7")
    ),
    *(SynthesiserVoice("espeak-ng", f"en-us+{kind}") for kind in ("f1", "f2", "f3", "f4")),
)
Utterances = Callable[[Sound], list[Sound]]
"""The utterances that a detector finds in a sound."""

PRESSURE, WATER, TANK, ANY = Expected("pressure"), Expected("water"), Expected("tank"), Expected()
_ANSWER = Expected("answer", about="pressure")


def _step(what: str, value: str, *forms: str) -> Expected:
    """A step's question with the sentences that answer it."""
    return Expected("state", tuple((form, Report(what, value)) for form in forms))


# Forty sentences of a steam-up, each with the question it answers.
SENTENCES: tuple[tuple[str, Expected], ...] = (
    *((f"pressure {words}", PRESSURE) for words in (
        "seven five", "forty", "one twenty", "fifteen", "eighty five", "a hundred and ten")),
    ("sixty pounds", PRESSURE),
    ("two and a half bar", PRESSURE),
    *((f"water {words}", WATER) for words in (
        "two thirds", "half", "three quarters", "five eighths", "one third", "three eighths")),
    ("half a glass", WATER),
    ("no water in sight", WATER),
    ("nothing in the glass", WATER),
    ("tank three quarters", TANK),
    ("tank half", TANK),
    ("that's right", _ANSWER),
    ("wrong", _ANSWER),
    ("wrong six five", _ANSWER),
    ("say again", _ANSWER),
    ("regulator is shut", _step("regulator", "shut", "regulator shut", "regulator is shut")),
    ("gear is out", _step("gear", "out", "out of gear", "gear is out")),
    ("drain cocks open", _step("drains", "open", "drains open", "drain cocks open")),
    ("tubes are clean", _step("tubes", "swept", "tubes swept", "tubes are clean")),
    ("oil is round", _step("oil", "all round", "oiled round", "oil is round")),
    ("fire is lit", _step("fire", "lit", "fire is lit", "fire lit")),
    ("everyone is clear", _step("people", "clear", "everyone is clear", "people are clear")),
    ("bypass is shut", _step("bypass", "shut", "bypass shut", "bypass is shut")),
    ("the blower is shut", ANY),
    ("the damper is half open", ANY),
    ("more coal on the fire", ANY),
    ("safety valve lifting", ANY),
    ("the feed is running", ANY),
    ("what next", ANY),
    ("how long to sixty", ANY),
    ("where are we", ANY),
    ("wait five minutes", ANY),
)  # fmt: skip

# Talk near the engine that is not for the assistant; the last ones resemble its sentences.
OTHER_TALK = (
    "where is my tea", "what a lovely day", "are you going to the rally", "pass me the shovel",
    "how many people came today", "mind your fingers", "twenty pounds please",
    "it was built in nineteen ten", "the kettle is on", "go and get some wood",
    "can you hold this", "that is a big engine", "it weighs four tons", "half past ten",
    "is that your dog", "three of us are coming", "two quarters of an hour", "the whistle is loud",
    "tubes are clear", "drains are blocked", "people are near the gate", "nobody is here",
    "the tap is leaking", "bearings are hot stuff", "steam is up to you", "the fire looks fine",
    "put it in the tank", "gloves are in the shed", "check the regulator", "water the horses",
    "we need more coal", "that is right next to you", "the wrong trousers", "seventy of them",
    "close the gate", "open the door", "it feeds the pump", "the glass is broken at home",
    "correct me if i am wrong", "ready when you are dear",
)  # fmt: skip
_TEENS = tuple((teen, (teen - 10) * 10) for teen in range(13, 20))


@dataclass(frozen=True, slots=True)
class DecisionTrial:
    """One utterance."""

    sound: Sound
    expected: Expected  # the question in hand
    meant: Meaning | None  # None: it is not for the assistant


def sentence_trials(
    lines: Sequence[tuple[str, Expected]],
    where: Surroundings,
    share: int,
    seed: int,
    before: str = "",
) -> Iterator[DecisionTrial]:
    """Each voice says every `share`th of the lines, the words `before` ahead of each."""
    for number, (voice, line) in enumerate((v, line) for v in VOICES for line in lines):
        if (number + number // len(lines)) % share:
            continue
        words, expected = line
        rng = np.random.default_rng([seed, number])
        sound = said_in_a_room(voice, before + words, rng)
        meant = grammar(expected).meaning(words.split())
        yield DecisionTrial(where.with_noise(sound, rng), expected, meant)


def other_talk_trials(
    recordings: Path | None, where: Surroundings, most: int
) -> Iterator[DecisionTrial]:
    """Other talk, to the questions of a steam-up in turn; the recorded orders first."""
    questions = [expected for _, expected in SENTENCES]
    sounds = [read_samples(file) for file in bench_sounds.orders(recordings)]
    rng = np.random.default_rng(17)
    for number in range(max(0, most - len(sounds))):
        voice = VOICES[number % len(VOICES)]
        words = OTHER_TALK[number % len(OTHER_TALK)]
        sounds.append(said_in_a_room(voice, words, rng))
    for number, sound in enumerate(sounds[:most]):
        yield DecisionTrial(where.with_noise(sound, rng), questions[number % len(questions)], None)


def teen_trials(where: Surroundings, count: int) -> Iterator[DecisionTrial]:
    """Pressures that are easily confused: thirteen and thirty and so on, five and nine."""
    rng = np.random.default_rng(23)
    values = [value for pair in _TEENS for value in pair] + [5, 9]
    for number in range(count):
        value = float(values[number % len(values)])
        forms = [" ".join(form) for form in spoken_forms(value)] + [digit_by_digit(value)]
        words = f"pressure {forms[int(rng.integers(min(2, len(forms))))]}"
        voice = VOICES[int(rng.integers(len(VOICES)))]
        sound = said_in_a_room(voice, words, rng)
        yield DecisionTrial(
            where.with_noise(sound, rng), PRESSURE, Report("pressure", value, "psi")
        )
