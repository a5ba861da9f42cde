"""The model card of an adapter: training data and its licences, recipe, results, limits.

Knows words and figures; the results are handed in as lines.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from assistant.enrolment.training import TrainingSettings
from assistant.lab.benches.recorded_noise import NoiseRecording
from assistant.lab.tuning.synthetic_voices import ACCENTS
from assistant.lab.tuning.training_corpus import ORDER_GROUP, PEOPLE, READER, TrainingCorpus

_SOURCES = {
    "an4": "CMU AN4, (c) Carnegie Mellon University 1991-2005: free for any purpose, BSD-style",
    "coswara": "Coswara, (c) 2020 LEAP Lab, Indian Institute of Science: MIT",
    "gsc": (
        "Speech Commands v0.01 and v0.02, Google (P. Warden): CC BY 4.0; cut, joined, and mixed "
        "with noise"
    ),
    "speechocean": "speechocean762: free, commercial use too, by its own words; weighed low",
}
_CREDITS = {
    "orders": (
        "{count} spoken orders: speech-to-intent benchmark (Picovoice), Apache-2.0"
    ),
    "voices": (
        "{in_grammar} sentences of this program's own grammar and {others} that are none of it, in "
        "synthetic voices of flite (BSD-like licence) and espeak-ng (GPL-3.0; only its sound is "
        "learnt from), besides digits with the accents of {accents} languages: {kinds}"
    ),
    "reader": (
        "number words of {people} more people joined to {count} numbers, and their digits: to be "
        "named here with their licences"
    ),
    "owner": "{count} phrases that the owner of this machine read aloud; they have not left it",
}  # fmt: skip
LICENCE = (
    "Nothing under the GPL or a share-alike licence was learnt from: the file may be passed on "
    "under the MIT licence of the program, with this card, which gives the credits that CC BY "
    "asks for."
)
LIMITS = (
    "Nobody was recorded beside a steam engine: noise was mixed in, made by program or recorded.",
    "Accents: American, Indian English, some Mandarin; hardly a Briton; few children or old.",
    "Tens above twenty come nearly alone from an4: Americans in a quiet room.",
    "The takes of coswara were cut from counting by alignment: some hold a piece of a neighbour.",
    "The decoder is as it came: what the ear cannot write it still cannot write.",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Recipe:
    """How an adapter was made."""

    command: str
    date: str
    """Year-month-day."""
    settings: Sequence[TrainingSettings]
    """Of the runs that were averaged."""
    share: float
    """Of their mean that is kept."""
    rank: int
    """Of what is kept."""


@dataclass(frozen=True, slots=True)
class Card:
    """What stands in the card."""

    recipe: Recipe
    corpus: TrainingCorpus
    noises: Sequence[NoiseRecording] = field(default=())
    """Recordings that were learnt under."""
    runs: Sequence[str] = field(default=())
    """A line for each."""
    results: Sequence[str] = field(default=())
    """Lines of tables, before and after."""
    limits: Sequence[str] = LIMITS

    def text(self, name: str) -> str:
        """The card as Markdown."""
        parts = [
            f"# {name}: where its numbers come from",
            "Small changes to the encoder of the bundled Whisper tiny.en (MIT): to each wide matrix"
            f" a product of rank {self.recipe.rank} at most (`NAME|A`, `NAME|B`), to the other "
            "arrays of the encoder an addition; the decoder is as it came. Delete the file, or say "
            "`--ear plain`, and the ear is the plain one.",
            "## Learnt from",
            "\n".join(
                f"- {line}" for line in (*learnt_from(self.corpus), *learnt_under(self.noises))
            ),
            LICENCE,
            "## Made by",
            f"    {self.recipe.command}",
            _recipe_text(self.recipe),
            *_block("Runs (nats a token on who was kept out, after so many steps)", self.runs),
            *_block("Before and after", self.results),
            "## Known limits",
            "\n".join(f"- {line}" for line in self.limits),
        ]
        return "\n\n".join(part for part in parts if part) + "\n"


def learnt_from(corpus: TrainingCorpus) -> list[str]:
    """One line for each kind of sound in it, with licence and credit."""
    counts = Counter(clip.group for clip in corpus.clips)
    voices = [clip for clip in corpus.clips if clip.group not in PEOPLE]
    lines = []
    for source, credit in _SOURCES.items():
        takes = [clip for clip in corpus.clips if clip.group == source]
        if takes:
            people = len({clip.speaker for clip in takes})
            lines.append(f"{len(takes)} takes of {people} people: {credit}")
    if counts[ORDER_GROUP]:
        lines.append(_CREDITS["orders"].format(count=counts[ORDER_GROUP]))
    if voices:
        kinds = Counter(clip.group for clip in voices)
        listed = ", ".join(f"{kind} {kinds[kind]}" for kind in sorted(kinds))
        in_grammar = sum(clip.in_grammar for clip in voices)
        lines.append(
            _CREDITS["voices"].format(
                in_grammar=in_grammar,
                others=len(voices) - in_grammar,
                kinds=listed,
                accents=len(ACCENTS),
            )
        )
    readers = sum(who.startswith(f"{READER}/") for who in corpus.digits)
    if readers:
        lines.append(_CREDITS["reader"].format(count=counts[READER], people=readers))
    if counts["owner"]:
        lines.append(_CREDITS["owner"].format(count=counts["owner"]))
    return lines


def learnt_under(noises: Sequence[NoiseRecording]) -> list[str]:
    """The credits of recorded noises: public domain together, others by author."""
    if not noises:
        return []
    authors: dict[str, set[str]] = {}
    free = 0
    for noise in noises:
        licence = noise.licence.split(" (clip)")[0]
        if licence.startswith(("CC0", "public")):
            free += 1
        else:
            authors.setdefault(licence, set()).add(noise.author)
    named = "; ".join(f"{licence}: {' / '.join(sorted(authors[licence]))}" for licence in authors)
    return [
        f"{len(noises)} recordings of noise, cut and mixed in: {free} in the public domain or CC0; "
        f"{named}; some by way of the set ESC-10 (K. J. Piczak, CC BY 3.0)"
    ]


def _recipe_text(recipe: Recipe) -> str:
    first = recipe.settings[0]
    stop = first.stop or first.steps
    rates = ", ".join(
        f"rank {run.rank} at {run.adapter_rate:g} (adapters) and {run.full_rate:g} (in full)"
        + (", resonances moved and pictures partly covered" if run.masking else "")
        for run in recipe.settings
    )
    return (
        f"{recipe.date}, seed {first.seed}: AdamW, batches of {first.batch}, {stop} of "
        f"{first.steps} steps of a cosine, averaged numbers; {len(recipe.settings)} side by side: "
        f"{rates}; {recipe.share:.0%} of their mean is kept. Each clip gets a pace and pitch, a "
        "room, a microphone, perhaps a raised voice or clipping, and a noise, coloured and beating "
        "by program or recorded; what is learnt is the writing that the plain ear prefers on clean "
        "sound, numbers of one shape all in one style. How sure it is was fitted on people of whom "
        "nothing was learnt, by one factor in quiet and one in noise."
    )


def _block(title: str, lines: Sequence[str]) -> list[str]:
    return [f"## {title}", "\n".join(f"    {line}" for line in lines)] if lines else []


def write(file: Path, card: Card) -> Path:
    """Write it beside the adapter, under the same name; returns the file."""
    beside = file.with_suffix(".md")
    beside.write_text(card.text(file.name), encoding="utf-8")
    return beside
