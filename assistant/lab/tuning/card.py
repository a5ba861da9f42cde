"""The model card of an adapter: training data and its licences, recipe, results, limits.

Knows words and figures; the results are handed in as lines.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from assistant.enrolment.training import TrainingSettings
from assistant.lab.tuning.synthetic_voices import ACCENTS
from assistant.lab.tuning.training_corpus import ORDER_GROUP, PEOPLE, READER, TrainingCorpus

_CREDITS = {
    "digits": (
        "single digits of {people} people joined to numbers: Free Spoken Digit Dataset "
        "(Z. Jackson and others), CC BY-SA 4.0"
    ),
    "orders": (
        "{count} spoken orders: speech-to-intent benchmark (Picovoice), Apache-2.0"
    ),
    "voices": (
        "{in_grammar} sentences of this program's own grammar and {others} that are none of it, in "
        "synthetic voices of flite and festival (BSD-like licences) and espeak-ng (GPL-3.0; only "
        "its sound is learnt from), besides digits with the accents of {accents} languages: {kinds}"
    ),
    "reader": (
        "number words of {people} more people joined to {count} numbers, and their digits: to be "
        "named here with their licences"
    ),
    "owner": "{count} phrases that the owner of this machine read aloud; they have not left it",
}  # fmt: skip

LIMITS = (
    "Few people, three for digits, and none beside an engine: every noise was mixed in by program.",
    "No regional accents of people, no children; British synthetic voices say little about people.",
    "The decoder is as it came: what the ear cannot write it still cannot write.",
    "Figures per person are for the run without that person; the shipped file learnt from all.",
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
            "\n".join(f"- {line}" for line in learnt_from(self.corpus)),
            "To be safe, pass the file on under CC BY-SA 4.0, the licence of the first set."
            if self.corpus.digits
            else "",
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
    if corpus.digits:
        lines.append(_CREDITS["digits"].format(people=len(corpus.people)))
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
        "room, a microphone, perhaps a raised voice or clipping, and a coloured, beating noise "
        "made by program; what is learnt is the writing that the plain ear prefers on clean sound."
    )


def _block(title: str, lines: Sequence[str]) -> list[str]:
    return [f"## {title}", "\n".join(f"    {line}" for line in lines)] if lines else []


def write(file: Path, card: Card) -> Path:
    """Write it beside the adapter, under the same name; returns the file."""
    beside = file.with_suffix(".md")
    beside.write_text(card.text(file.name), encoding="utf-8")
    return beside
