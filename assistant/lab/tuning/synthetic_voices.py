"""Sentences spoken by the synthesisers of this machine, in three groups by how they work.

The synthesiser itself is handed in: this module knows the names of voices, not programs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

import numpy as np

from assistant.enrolment.clip_corpus import LabelledClip, trimmed
from assistant.errors import WorldFailedError
from assistant.grammar.numbers import DIGITS, Words
from assistant.grammar.phrases import PROMPTS
from assistant.lab.tuning.training_corpus import DIGIT, at_peak
from assistant.messages import SPEECH_RATE_HZ, ExpectedKind
from assistant.recogniser.base import Sound

Speak = Callable[[str, str, str, float], Sound]
"""(program, voice, text, speed) -> sound; raises WorldFailedError where it cannot."""

# By how the voice is made: a group that is held out is another sort of voice altogether.
GROUPS: Mapping[str, tuple[tuple[str, str], ...]] = {
    "spliced": (  # diphones
        ("flite", "kal"), ("flite", "kal16"), ("festival", "kal_diphone"),
        ("festival", "ked_diphone"),
    ),
    "statistical": (  # trained on people
        ("flite", "rms"), ("flite", "slt"), ("flite", "awb"),
        ("festival", "cmu_us_slt_arctic_hts"),
    ),
    "formant": tuple(
        ("espeak-ng", name)
        for name in (
            "en-us", "en-us+m1", "en-us+m3", "en-us+m4", "en-us+m5", "en-us+m7", "en-us+f1",
            "en-us+f2", "en-us+f3", "en-us+f4", "en-gb+m2", "en-gb-x-rp",
        )
    ),
}  # fmt: skip
# More voices for single digits.
DIGIT_VOICES = (
    "en-us+m2", "en-us+m6", "en-us+m8", "en-us+f5", "en-029+m3", "en-gb-scotland+f2", "en-us+Mike",
    "en-us+linda", "en-us+victor", "en-us+Gene",
)  # fmt: skip
# English digits with an accent: zero to nine spelt as another language writes their sounds, and
# read by its voice. The author's spelling, no source.
ACCENTS: Mapping[str, str] = {
    "de": "siroh uann tu srie foor feif siks sevven eet nain",
    "fr-fr": "ziro ouane tou tri faure faïve sixe sévenne éte naïne",
    "it": "ziro uan tu tri for faiv six seven eit nain",
    "es": "siro uan tu tri for faiv siks seven eit nain",
    "nl": "ziero uan toe srie foor faif siks sevun eet nain",
    "pl": "ziro łan tu sri for fajw syks sewen ejt najn",
    "sv": "siro uan to tri får fajv sikks seven ejt najn",
    "pt-br": "ziro uan tu tri for faiv siks séven eit nain",
    "cs": "ziro uan tú trí for fajv siks seven ejt najn",
    "hu": "ziró van tu szrí for fájv sziksz szeven éjt nájn",
    "fi": "siirou uan tuu trii foor faiv siks seven eit nain",
    "tr": "ziro uan tu tri for fayv siks sevın eyt nayn",
    "ro": "zirou uan tu tri for faiv sics seven eit nain",
    "hi": "ज़ीरो वन टू थ्री फ़ोर फ़ाइव सिक्स सेव्हन एट नाइन",
    "ta": "ஜீரோ ஒன் டூ த்ரீ ஃபோர் ஃபைவ் சிக்ஸ் செவன் எய்ட் நைன்",
    "ru": "зиро уан ту три фор файв сикс севен эйт найн",
    "el": "ζίροου ουάν του θρι φορ φάιβ σιξ σέβεν έιτ νάιν",
    "sr": "zirou uan tu tri for fajv siks seven ejt najn",
}
ACCENTED = ("", "+m3", "+f2")  # variants of each
UNHEARD = "unheard"  # group of voices that are never trained on, to evaluate on
UNHEARD_VOICES = (
    ("espeak-ng", "en-us+Andrea"),
    ("espeak-ng", "en-us+robert"),
    ("espeak-ng", "en-us+steph"),
)
PACES = (0.8, 0.95, 1.1, 1.3)
_LONGEST_S = 5.5


def usable(
    speak: Speak, wanted: Mapping[str, tuple[tuple[str, str], ...]] = GROUPS
) -> dict[str, tuple[tuple[str, str], ...]]:
    """The groups with the voices that speak on this machine; WorldFailedError if none does."""
    groups: dict[str, tuple[tuple[str, str], ...]] = {}
    for group, voices in wanted.items():
        here = tuple(voice for voice in voices if _speaks(speak, voice))
        if here:
            groups[group] = here
    if not groups:
        raise WorldFailedError("no synthetic voice here: install flite or espeak-ng")
    return groups


def _speaks(speak: Speak, voice: tuple[str, str]) -> bool:
    try:
        return len(speak(*voice, "ready", 1.0)) > 0
    except WorldFailedError:
        return False


def spoken_digits(
    speak: Speak, groups: Mapping[str, tuple[tuple[str, str], ...]]
) -> Iterator[LabelledClip]:
    """Every digit in every voice at several paces, to be joined to numbers."""
    every: list[tuple[str, tuple[str, str], Sequence[str]]] = [
        (group, voice, DIGITS) for group, voices in groups.items() for voice in voices
    ]
    if "formant" in groups:
        every += [("formant", ("espeak-ng", name), DIGITS) for name in DIGIT_VOICES]
        every += [
            ("formant", ("espeak-ng", f"{language}{variant}"), tuple(spelt.split()))
            for language, spelt in ACCENTS.items()
            for variant in ACCENTED
        ]
    for group, (program, voice), spelt_words in every:
        paces = PACES if spelt_words is DIGITS else PACES[1:3]
        for word, spelt in zip(DIGITS, spelt_words, strict=True):
            for pace in paces:
                sound = trimmed(speak(program, voice, spelt, pace), 0.0, 30.0)
                if len(sound) and np.abs(sound).max() > 0:
                    yield LabelledClip(at_peak(sound), (word,), f"{program}:{voice}", group, DIGIT)


def spoken_clips(
    sentences: Iterable[tuple[ExpectedKind, Words]],
    speak: Speak,
    groups: Mapping[str, tuple[tuple[str, str], ...]],
    rng: np.random.Generator,
    in_grammar: bool,
) -> Iterator[LabelledClip]:
    """Each sentence in one voice, groups in turn, at a pace of its own."""
    names = list(groups)
    for at, (kind, words) in enumerate(sentences):
        group = names[at % len(names)]
        program, voice = groups[group][int(rng.integers(len(groups[group])))]
        sound = trimmed(speak(program, voice, " ".join(words), float(rng.uniform(0.8, 1.25))), 0.05)
        if 0 < len(sound) < _LONGEST_S * SPEECH_RATE_HZ and np.abs(sound).max() > 0:
            yield LabelledClip(
                at_peak(sound), words, f"{program}:{voice}", group, PROMPTS[kind], in_grammar
            )
