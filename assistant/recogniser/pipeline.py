"""The ears in use, as one: sound and what is expected in, a `Heard` out. Knows no clock.

Which ears there are is chosen in `choose`; what several of them come to in `opinion`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from assistant.grammar import notes, orders
from assistant.grammar.phrases import Grammar, grammar
from assistant.grammar.wake_phrase import Wake
from assistant.messages import SPEECH_RATE_HZ, Expected, Heard, Meaning, Order
from assistant.recogniser.base import NBest, Recogniser, Sound
from assistant.recogniser.dictation import Dictation


@dataclass
class RecognitionPipeline:
    """One ear behind the house's own grammar. dictation: for notes; without it there are none.

    wake: where what is said to us begins with a phrase; every `Heard` then says whether it did.
    """

    ear: Recogniser
    dictation: Dictation | None = None
    wake: Wake | None = None

    def prepare(self, expected: Expected) -> None:
        """Do now what can be done before the sound is there."""
        self.ear.prepare(self._grammar(expected))

    def heard(self, sound: Sound, expected: Expected, at: float) -> Heard:
        """What was heard in one utterance."""
        opinion = self.ear.hear(sound, self._grammar(expected))
        heard = heard_from(opinion, at, len(sound) / SPEECH_RATE_HZ)
        return heard if self.wake is None else self.wake.heard(heard)

    def _grammar(self, expected: Expected) -> Grammar:
        plain = grammar(expected)
        return plain if self.wake is None else self.wake.grammar(plain)

    def note(self, sound: Sound, heard: Heard, expected: Expected) -> str | None:
        """The words of a note, where one is expected or begun in one breath; None where not.

        A note in one breath is looked for only where the sound is not surely one of our sentences,
        because it takes half a second.
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
        """One of the words that stop our own voice, if that is surely what was said."""
        opinion = self.ear.hear(sound, STOP_WORDS)
        sure = (opinion.log_ratio or -9.0) > _LEAST and (opinion.average or -9.0) > _LEAST
        return heard_from(opinion, 0.0, len(sound) / SPEECH_RATE_HZ) if sure else None


_SURE = -1.0  # nats, best sentence over the best text of any kind
LEAST_NOTE_S = 1.5  # with the quiet kept round it
SLOWEST_S_A_WORD = 0.9  # a sentence of ours that would have been said slower than this was not said


def _may_be_a_note(heard: Heard) -> bool:
    if heard.audio_s < LEAST_NOTE_S:
        return False
    words = len(heard.alternatives[0].words.split()) if heard.alternatives else 0
    unsure = heard.log_ratio is None or heard.log_ratio < _SURE
    return unsure or heard.audio_s - 0.6 > SLOWEST_S_A_WORD * words


_LEAST = -1.5  # nats, of both figures of refusal; measured over our own voice


@dataclass(frozen=True, eq=False)
class StopWords:
    """The grammar that is live while we speak ourselves."""

    sentences: Mapping[tuple[str, ...], Meaning]
    prompt: str = "Quiet please. Stop talking."

    def meaning(self, words: Sequence[str]) -> Meaning | None:
        """What exactly these words mean."""
        return self.sentences.get(tuple(words))


STOP_WORDS = StopWords({tuple(form.split()): Order("hush") for form in orders.ORDER_FORMS["hush"]})


def heard_from(opinion: NBest, at: float, audio_s: float) -> Heard:
    """An opinion as the event that goes into the book."""
    return Heard(
        at,
        opinion.ear,
        opinion.alternatives,
        opinion.log_ratio,
        opinion.average,
        round(audio_s, 3),
        opinion.alternatives[0].words if opinion.alternatives else opinion.text,
    )
