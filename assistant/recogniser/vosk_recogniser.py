"""The recogniser for those who have its model: vosk, constrained to a list of phrases.

Its grammar is a loose word model and its confidence is not calibrated, so a result counts only if
it is exactly a sentence, and never as certain.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from math import exp
from pathlib import Path
from typing import Any
from weakref import WeakKeyDictionary

import numpy as np

from assistant.errors import WorldFailedError
from assistant.messages import SPEECH_RATE_HZ, Alternative, Meaning
from assistant.recogniser.base import Grammar, NBest, Sound
from assistant.recogniser.vosk_model import check_model, missing_files, vosk_library

ANY_WORD = "[unk]"  # what the model gives for sound that is none of the grammar's words
NEVER_SURER = 0.9  # never measured on English, so alone it can never count as certain
LIST_LENGTH = 10
RESET_AFTER_S = 180.0  # of sound; its memory grows by about 4 MB a minute (measured)


@dataclass(frozen=True, slots=True)
class Partial:
    """What a block of a stream brought. ended: vosk found the end of an utterance."""

    ended: bool
    n_best: NBest | None


class VoskRecogniser:
    """A Recogniser, and a stream of utterances for those who feed it block by block."""

    name = "vosk"

    def __init__(self, folder: Path, checked: bool = False) -> None:
        """Load the model in `folder`. checked: it was loaded here before, so no trial is made.

        Raises WorldFailedError with one line for a folder that is not a whole model.
        """
        if not checked:
            check_model(folder)
        elif missing_files(folder):
            raise WorldFailedError(f"{folder}: not a whole vosk model")
        self._vosk = vosk_library()
        try:
            self._model = self._vosk.Model(str(folder))
        except Exception as error:  # vosk raises nothing more precise
            raise WorldFailedError(f"{folder}: vosk cannot load it ({error})") from error
        self._texts: WeakKeyDictionary[Grammar, str] = WeakKeyDictionary()
        self._recognizer: Any = None
        self._grammar: Grammar | None = None
        self._heard_s = 0.0

    def prepare(self, grammar: Grammar) -> None:
        """Make vosk's recogniser; WorldFailedError if the model knows none of the sentences."""
        if self._grammar is grammar and self._recognizer is not None:
            return
        self._recognizer = self._vosk.KaldiRecognizer(
            self._model, SPEECH_RATE_HZ, self._text(grammar)
        )
        self._recognizer.SetMaxAlternatives(LIST_LENGTH)
        self._grammar = grammar
        self._heard_s = 0.0

    def hear(self, sound: Sound, grammar: Grammar) -> NBest:
        """What may have been meant by one utterance."""
        self._refresh(grammar)
        self._recognizer.AcceptWaveform(_pcm(sound))
        self._heard_s += len(sound) / SPEECH_RATE_HZ
        n_best = self._n_best(self._recognizer.FinalResult(), grammar)
        self._recognizer.Reset()
        return n_best

    def feed(self, block: Sound, grammar: Grammar) -> Partial:
        """One block of a stream; vosk finds the end of speech itself."""
        self.prepare(grammar)
        self._heard_s += len(block) / SPEECH_RATE_HZ
        if not self._recognizer.AcceptWaveform(_pcm(block)):
            return Partial(False, None)
        n_best = self._n_best(self._recognizer.Result(), grammar)
        self._refresh(grammar)
        return Partial(True, n_best)

    def _refresh(self, grammar: Grammar) -> None:
        """A new recogniser for a new grammar, and every few minutes."""
        if self._heard_s > RESET_AFTER_S:
            self._recognizer = None
        self.prepare(grammar)

    def _knows(self, word: str) -> bool:
        return int(self._model.vosk_model_find_word(word)) >= 0

    def _text(self, grammar: Grammar) -> str:
        """The grammar as vosk takes it: a JSON list of phrases. Anything else ends the process."""
        text = self._texts.get(grammar)
        if text is None:
            phrases = [
                " ".join(sentence)
                for sentence in grammar.sentences
                if sentence and all(self._knows(word) for word in sentence)
            ]
            if not phrases:
                raise WorldFailedError("the vosk model knows no sentence of this grammar")
            text = json.dumps(phrases + [ANY_WORD] * self._knows(ANY_WORD), ensure_ascii=False)
            self._texts[grammar] = text
        return text

    def _n_best(self, result: str, grammar: Grammar) -> NBest:
        listed = read_result(result)
        by_meaning: dict[Meaning, tuple[float, str]] = {}
        total = 0.0
        top = max((score for _, score in listed), default=0.0)
        for words, score in listed:
            weight = exp(score - top)
            total += weight
            meaning = grammar.meaning(words)
            if meaning is not None:
                before, text = by_meaning.get(meaning, (0.0, " ".join(words)))
                by_meaning[meaning] = (before + weight, text)
        alternatives = [
            Alternative(meaning, text, NEVER_SURER * weight / total)
            for meaning, (weight, text) in by_meaning.items()
        ]
        alternatives.sort(key=lambda alternative: -alternative.probability)
        text = " ".join(listed[0][0]) if listed else ""
        return NBest(self.name, tuple(alternatives), text=text)


def read_result(result: str) -> list[tuple[tuple[str, ...], float]]:
    """Words and score of each alternative in vosk's JSON; silence gives none.

    >>> read_result('{"alternatives": [{"text": "water half", "confidence": 3.5}]}')
    [(('water', 'half'), 3.5)]
    """
    listed: Sequence[dict[str, Any]] = json.loads(result).get("alternatives", [])
    return [
        (tuple(alternative["text"].split()), float(alternative.get("confidence", 0.0)))
        for alternative in listed
        if alternative.get("text", "").strip()
    ]


def _pcm(sound: Sound) -> bytes:
    clipped = np.clip(sound, -1, 1)
    return bytes((clipped * 32767).astype("<i2").tobytes())
