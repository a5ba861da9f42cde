"""The recognisers in use behind one interface: sound and what is expected in, a `Heard` out.

Knows no clock. `choose` decides which recognisers there are, `hypotheses` fuses their lists.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.grammar import notes, orders
from assistant.grammar.phrases import Grammar, grammar
from assistant.grammar.wake_phrase import Wake
from assistant.messages import SPEECH_RATE_HZ, Expected, Heard, Order
from assistant.recogniser.base import ListedGrammar, NBest, Recogniser, Sound, Warms
from assistant.recogniser.dictation import Dictation


@dataclass
class RecognitionPipeline:
    """One recogniser behind the grammar of the session."""

    recogniser: Recogniser
    dictation: Dictation | None = None
    """For notes; without it there are none."""
    wake: Wake | None = None
    """With it every `Heard` says whether it began with the wake phrase."""

    def prepare(self, expected: Expected) -> None:
        """Compile what may be said before the sound is there."""
        self.recogniser.prepare(self._grammar(expected))

    def warm(self, expected: Expected) -> None:
        """Do what only makes the first utterance quicker to answer, once there is time."""
        if isinstance(self.recogniser, Warms):
            self.recogniser.warm(self._grammar(expected))

    def heard(self, sound: Sound, expected: Expected, at: float) -> Heard:
        """What was heard in one utterance."""
        n_best = self.recogniser.hear(sound, self._grammar(expected))
        heard = heard_from(n_best, at, len(sound) / SPEECH_RATE_HZ)
        return heard if self.wake is None else self.wake.heard(heard)

    def _grammar(self, expected: Expected) -> Grammar:
        plain = grammar(expected)
        return plain if self.wake is None else self.wake.grammar(plain)

    def note(self, sound: Sound, heard: Heard, expected: Expected) -> str | None:
        """The words of a note, where one is expected or begun in one breath; None where not.

        A note in one breath is looked for only where the sound is not surely a sentence of the
        grammar, because it takes half a second.
        """
        if self.dictation is None:
            return None
        if expected.note:
            return self.dictation.write(sound).strip()
        if not _may_be_a_note(heard):
            return None
        text = self.dictation.write(sound).strip()
        after = text if self.wake is None else self.wake.after(text)
        return text if notes.in_one_breath(after) is not None else None

    def stop_word(self, sound: Sound) -> Heard | None:
        """One of the words that stop the program's own voice, if that is surely what was said."""
        n_best = self.recogniser.hear(sound, STOP_WORDS)
        sure = (n_best.log_ratio or -9.0) > _LEAST and (n_best.average or -9.0) > _LEAST
        return heard_from(n_best, 0.0, len(sound) / SPEECH_RATE_HZ) if sure else None


_SURE = -1.0  # nats, best sentence over the best text of any kind
LEAST_NOTE_S = 1.5  # with the silence kept around it
SLOWEST_S_A_WORD = 0.9  # a sentence that took longer than this for each word was not said


def _may_be_a_note(heard: Heard) -> bool:
    if heard.audio_s < LEAST_NOTE_S:
        return False
    words = len(heard.alternatives[0].words.split()) if heard.alternatives else 0
    unsure = heard.log_ratio is None or heard.log_ratio < _SURE
    return unsure or heard.audio_s - 0.6 > SLOWEST_S_A_WORD * words


_LEAST = -1.5  # nats, of log ratio and average; measured over the program's own voice


STOP_WORDS = ListedGrammar(
    {tuple(form.split()): Order("hush") for form in orders.ORDER_FORMS["hush"]},
    "Quiet please. Stop talking.",
)
"""The grammar that is live while the program speaks."""


def heard_from(n_best: NBest, at: float, audio_s: float) -> Heard:
    """An n-best list as the event that goes into the journal."""
    return Heard(
        at,
        n_best.recogniser,
        n_best.alternatives,
        n_best.log_ratio,
        n_best.average,
        round(audio_s, 3),
        n_best.alternatives[0].words if n_best.alternatives else n_best.text,
    )
