"""How often the bundled ear follows the assistant's voice beside an engine, plain and shaped.

For `footplate bench voice`. The ear knows what a driver says, not what the program says: the voice
says the named forms. The ear is no person, and learnt from other voices.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from assistant.grammar.phrases import grammar
from assistant.lab.benches.own_sentences import OwnSentence
from assistant.lab.benches.table import Column, ResultTable
from assistant.lab.benches.voice_in_noise import LEVELS_DB, NOISES, Spoken, noise_beside
from assistant.messages import SPEECH_RATE_HZ, Expected
from assistant.recogniser.base import Recogniser, Sound
from assistant.wording.things_to_say import sayings

_ANY = Expected()
_AROUND_S = 0.3  # of the noise alone before and after the words


def named_forms() -> list[OwnSentence]:
    """What a driver says most, for the assistant's voice to say."""
    forms = [s.form for s in sayings() if grammar(_ANY).meaning(s.form.split()) is not None]
    return [OwnSentence(form, 140, "named forms") for form in forms]


def followed(
    ear: Recogniser, voices: Sequence[Spoken], noises: Sequence[str], level_db: float
) -> tuple[int, int]:
    """How many sentences, plain and shaped, the ear takes for what they mean in these noises."""
    counts = [0, 0]
    for number, one in enumerate(voices):
        meant = grammar(_ANY).meaning(one.sentence.text.split())
        quiet = np.zeros(int(_AROUND_S * SPEECH_RATE_HZ), np.float32)
        plain, bright = (np.concatenate([quiet, s, quiet]) for s in one.heard())
        for kind in noises:
            noise = noise_beside(plain, kind, [number, *kind.encode()])
            for place, voice in enumerate((plain, bright)):
                counts[place] += _best(ear, voice + noise * 10 ** (-level_db / 20)) == meant
    return counts[0], counts[1]


def _best(ear: Recogniser, sound: Sound) -> object:
    level = max(1.0, float(np.abs(sound).max()))
    heard = ear.hear((sound / level).astype(np.float32), grammar(_ANY))
    return heard.alternatives[0].meaning if heard.alternatives else None


_TABLE = ResultTable(
    12, Column("n", 6), Column("plain %", 10, ".1f"), Column("shaped %", 10, ".1f"), corner="ratio"
)


def bench_lines(ear: Recogniser, voices: Sequence[Spoken]) -> Iterator[str]:
    """The table, a row for each level."""
    yield f"{len(voices)} named forms in the assistant's voice: the ear's best guess is right"
    yield _TABLE.header()
    trials = len(voices) * len(NOISES)
    for level_db in LEVELS_DB:
        shares = (100.0 * n / trials for n in followed(ear, voices, NOISES, level_db))
        yield _TABLE.row(f"{level_db:+.0f} dB", trials, *shares)
