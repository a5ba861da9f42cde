"""What `footplate bench talk` measures: sound in, decision out, in many voices beside an engine.

Knows voices, noises, the ear and the decision. Nothing is believed of a boiler; what its gauges
cannot show may be asked again, as in a session. Times need a quiet machine.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

import numpy as np

from assistant.devices.sound import read_samples
from assistant.grammar.numbers import digit_by_digit, spoken_forms
from assistant.grammar.phrases import grammar
from assistant.lab.benches import recordings as bench_sounds
from assistant.lab.benches.hear_people import level_name
from assistant.messages import Expected, Meaning, Report
from assistant.recogniser.base import Sound
from assistant.recogniser.pipeline import RecognitionPipeline
from assistant.recogniser.snr import Noise
from assistant.simulator.noise import Surroundings, engine_noise
from assistant.simulator.voices import SynthesiserVoice, said_in_a_room
from assistant.understanding.decide import Chance, Objection, decide, no_chance, no_objection

_LEVELS: tuple[float | None, ...] = (None, 20.0, 10.0, 5.0)
VOICES = (
    *(SynthesiserVoice("flite", name) for name in ("rms", "slt", "awb", "kal16")),
    *(
        SynthesiserVoice("espeak-ng", f"en-us+{kind}")
        for kind in ("m1", "m2", "m3", "m4", "m5", "m7")
    ),
    *(SynthesiserVoice("espeak-ng", f"en-us+{kind}") for kind in ("f1", "f2", "f3", "f4")),
)
Utterances = Callable[[Sound], list[Sound]]
"""A sound to the stretches of speech in it."""

PRESSURE, WATER, TANK, ANY = Expected("pressure"), Expected("water"), Expected("tank"), Expected()
_ANSWER = Expected("answer", about="pressure")


def _step(what: str, value: str, *forms: str) -> Expected:
    """A step's question with its answers."""
    return Expected("state", tuple((form, Report(what, value)) for form in forms))


# Forty sentences of a steam-up, each to the question in hand.
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

# Said near the engine, and not for us; the last ones are near to what we listen for.
OTHER_TALK = (
    "where is my tea", "what a lovely day", "are you going to the rally", "pass me the shovel",
    "how many people came today", "mind your fingers", "twenty pounds please",
    "it was built in nineteen ten", "the kettle is on", "go and get some wood",
    "can you hold this", "that is a big engine", "it weighs four tons", "half past ten",
    "is that your dog", "three of us are coming", "two quarters of an hour", "the whistle is loud",
    "tubes are clear", "drains are blocked", "people are near the gate", "nobody is here",
    "the valve is leaking", "bearings are hot stuff", "steam is up to you", "the fire looks fine",
    "put it in the tank", "gloves are in the shed", "check the regulator", "water the horses",
    "we need more coal", "that is right next to you", "the wrong trousers", "seventy of them",
    "close the gate", "open the door", "it feeds the pump", "the glass is broken at home",
    "correct me if i am wrong", "ready when you are dear",
)  # fmt: skip
_TEENS = tuple((teen, (teen - 10) * 10) for teen in range(13, 20))


@dataclass(frozen=True, slots=True)
class DecisionTrial:
    """One utterance: its sound, the question in hand, what was meant (None: nothing of ours)."""

    sound: Sound
    expected: Expected
    meant: Meaning | None


class Outcomes:
    """How a number of trials went, in words; and the seconds from the end of the sound."""

    def __init__(self) -> None:
        self.counts: Counter[str] = Counter()
        self.wrong: list[str] = []
        self.seconds: list[float] = []

    def add(self, others: Outcomes) -> None:
        """Count others in."""
        self.counts += others.counts
        self.wrong += others.wrong
        self.seconds += others.seconds

    def line(self, name: str) -> str:
        """One row of the table, in per cent."""
        trials = max(1, sum(self.counts.values()))
        columns = "".join(f"{100 * self.counts[kind] / trials:>9.1f}" for kind in _KINDS)
        late = np.quantile(self.seconds, [0.5, 0.95]) if self.seconds else (0.0, 0.0)
        return f"{name:<26}{trials:>6}{columns}{late[0]:>8.2f}{late[1]:>8.2f}"


_KINDS = ("right", "asked", "asked-", "again", "ignored", "wrong")
HEADER = f"{'':<26}{'n':>6}" + "".join(f"{kind + '%':>9}" for kind in _KINDS) + "   med s   95% s"
_LEGEND = (
    "right: taken at once, and meant; asked / asked-: put back as a question, the right thing or "
    "another; again, ignored: asked for again, passed over (right for what was not for us); wrong: "
    "taken at once, and not meant; seconds from the end of speech to the decision"
)


def judged(
    hearer: RecognitionPipeline,
    utterances: Utterances,
    trials: Iterable[DecisionTrial],
    chance: Chance = no_chance,
    objection: Objection = no_objection,
    limits: Objection = no_objection,
) -> Outcomes:
    """Hear them all and decide. chance, objection: the boiler's say on a reading; limits: why a
    reading is on no gauge; none by default."""
    found = Outcomes()
    for trial in trials:
        heard = utterances(trial.sound)
        begin = perf_counter()
        told = [hearer.heard(sound, trial.expected, 0.0) for sound in heard]
        decisions = [decide(one, trial.expected, chance, objection, limits=limits) for one in told]
        found.seconds.append((perf_counter() - begin) / max(1, len(heard)))
        kinds = {_named(d.kind, d.meaning, trial.meant) for d in decisions} or {"ignored"}
        kind = max(kinds, key=lambda name: KINDS_BY_WEIGHT.index(name))
        found.counts[kind] += 1
        if kind == "wrong":
            meant = trial.meant or "other talk"
            found.wrong += [f"{meant} taken for {d.meaning}" for d in decisions if d.meaning]
    return found


KINDS_BY_WEIGHT = ("ignored", "again", "asked-", "asked", "right", "wrong")


def _named(kind: str, meaning: Meaning | None, meant: Meaning | None) -> str:
    same = meant is not None and meaning == meant
    if kind == "accept":
        return "right" if same else "wrong"
    if kind == "confirm":
        return "asked" if same else "asked-"
    return "again" if kind == "again" else "ignored"


def said(
    lines: Sequence[tuple[str, Expected]],
    where: Surroundings,
    share: int,
    seed: int,
    before: str = "",
) -> Iterator[DecisionTrial]:
    """Each voice says every `share`th of the lines, some words `before` each."""
    for number, (voice, line) in enumerate((v, line) for v in VOICES for line in lines):
        if (number + number // len(lines)) % share:
            continue
        words, expected = line
        rng = np.random.default_rng([seed, number])
        sound = said_in_a_room(voice, before + words, rng)
        meant = grammar(expected).meaning(words.split())
        yield DecisionTrial(where.with_noise(sound, rng), expected, meant)


def not_for_us(recordings: Path | None, where: Surroundings, most: int) -> Iterator[DecisionTrial]:
    """Other talk, to the questions of a steam-up in turn; people's orders where recordings are."""
    asked = [expected for _, expected in SENTENCES]
    sounds = [read_samples(file) for file in bench_sounds.orders(recordings)]
    rng = np.random.default_rng(17)
    for number in range(max(0, most - len(sounds))):
        voice = VOICES[number % len(VOICES)]
        words = OTHER_TALK[number % len(OTHER_TALK)]
        sounds.append(said_in_a_room(voice, words, rng))
    for number, sound in enumerate(sounds[:most]):
        yield DecisionTrial(where.with_noise(sound, rng), asked[number % len(asked)], None)


def teens(where: Surroundings, count: int) -> Iterator[DecisionTrial]:
    """Thirteen against thirty and so on, and five against nine, as pressures."""
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


NOISE_KINDS = ("mix", "blower", "chuff", "valve", "wind", "clank")


def heard_in_noise(
    utterances: Utterances,
    hours: float,
    hearer: RecognitionPipeline,
    kinds: Sequence[str] = NOISE_KINDS,
    noise: Noise = engine_noise,
) -> Iterator[str]:
    """Hours of engine noise alone through detector and ear: how many stretches, what of them."""
    minutes = max(1, round(hours * 60 / len(kinds)))
    for number, kind in enumerate(kinds):
        found: Counter[str] = Counter()
        begin = perf_counter()
        for minute in range(minutes):
            rng = np.random.default_rng([31, number, minute])
            for sound in utterances(noise(kind, 60.0, rng)):
                for expected in (ANY, PRESSURE):
                    found[decide(hearer.heard(sound, expected, 0.0), expected).kind] += 1
        spent = perf_counter() - begin
        yield (
            f"{kind:<8}{minutes} min of noise: {dict(found) or 'no speech found'}"
            f" ({spent / minutes / 60:.1%} of a core)"
        )


def bench_lines(
    hearer: RecognitionPipeline,
    utterances: Utterances,
    recordings: Path | None,
    part: str,
    share: int = 2,
    kinds: Sequence[str] = ("mix",),
    noise: Noise = engine_noise,
    limits: Objection = no_objection,
) -> Iterator[str]:
    """The tables of one part, line by line: sentences, others or teens, beside each kind of noise.

    Without noise they are measured once. limits: see `judged`.
    """
    yield _LEGEND
    yield HEADER
    wrong: list[str] = []
    for kind in kinds:
        if tuple(kinds) != ("mix",):
            yield f"beside {kind}"
        for snr_db in _PARTS[part][1]:
            if snr_db is None and kind != kinds[0]:
                continue
            trials = _trials(part, share, recordings, snr_db, kind, noise)
            made = judged(hearer, utterances, trials, limits=limits)
            wrong += made.wrong
            yield made.line(f"{_PARTS[part][0]} {level_name(snr_db)}")
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
        return not_for_us(recordings, where, 600 // share)
    if part == "teens":
        return teens(where, 600 // share)
    return said(SENTENCES, where, share, 5)
