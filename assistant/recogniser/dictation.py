"""Free dictation, for notes. Knows sound and tokens; no grammar, no meaning.

The bundled model without a grammar. Far less sure than a sentence of the grammar: the recording is
the note, the words only help to find it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound
from assistant.recogniser.whisper_decoder import PrefixCache
from assistant.recogniser.whisper_encoder import LONGEST_S

if TYPE_CHECKING:
    from assistant.recogniser.constrained_whisper import LoadedModel

MOST_TOKENS_A_S = 6.0  # hurried English has about four; more is a decoder that repeats itself
WINDOW_S, AFTER_S = 10.0, 1.0
TRADE = (
    "Notes of a driver about the boiler, gauge glass, cocks, washout plug, clack, injector, "
    "blower, regulator, firebox, tubes, fusible plug and safety valve."
)


class Dictation:
    """Writes down one utterance by greedy decoding; for one thread at a time."""

    def __init__(self, model: LoadedModel, prompt: str = TRADE) -> None:
        self._encoder, self._decoder, self._tokens = model.encoder, model.decoder, model.tokens
        marks = self._tokens.marks
        self._prompt = [marks.before, *self._tokens.of(f" {prompt}"), marks.start]
        self._prompt.append(marks.no_timestamps)

    def write(self, sound: Sound) -> str:
        """The words of at most the first `LONGEST_S` seconds; empty for no sound to speak of."""
        sound = sound[: round(LONGEST_S * SPEECH_RATE_HZ)]
        if len(sound) < SPEECH_RATE_HZ // 20:
            return ""
        encoded = self._encoder.of_sound(sound, WINDOW_S, AFTER_S)
        most = round(len(sound) / SPEECH_RATE_HZ * MOST_TOKENS_A_S) + 4
        return self._tokens.text(
            self._greedy(PrefixCache(self._decoder, encoded, self._prompt), most)
        )

    def _greedy(self, cache: PrefixCache, most: int) -> list[int]:
        tokens: list[int] = []
        node, after, end = 0, cache.first, self._tokens.marks.end
        while len(tokens) < most:
            logits = self._decoder.embeddings[: end + 1] @ after.states[0]
            token = int(np.argmax(logits))
            if token == end:
                break
            tokens.append(token)
            nodes, after = cache.extend([node], [token])
            node = nodes[0]
        return tokens
