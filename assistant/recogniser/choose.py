"""Which recogniser is in use on this machine, and the one line that says so. Knows no sound."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from assistant.errors import WorldFailedError
from assistant.recogniser.base import Grammar, NBest, Recogniser, Sound, Warms
from assistant.recogniser.dictation import Dictation
from assistant.recogniser.hypotheses import product_of_experts


@dataclass(frozen=True, slots=True)
class Chosen:
    """What this machine hears with."""

    recogniser: Recogniser
    line: str
    """What is in use, for the person."""
    dictation: Dictation | None = None
    """For notes, in any words."""


class CombinedRecogniser:
    """Two recognisers of different make on one utterance."""

    def __init__(self, recognisers: Sequence[Recogniser]) -> None:
        self._recognisers = tuple(recognisers)
        self.name = "+".join(each.name for each in self._recognisers)

    def prepare(self, grammar: Grammar) -> None:
        """Prepare each."""
        for each in self._recognisers:
            each.prepare(grammar)

    def warm(self, grammar: Grammar) -> None:
        """Each that can."""
        for each in self._recognisers:
            if isinstance(each, Warms):
                each.warm(grammar)

    def hear(self, sound: Sound, grammar: Grammar) -> NBest:
        """Their n-best lists as one."""
        return product_of_experts([each.hear(sound, grammar) for each in self._recognisers])


def choose_recogniser(
    vosk_folder: Path | None = None, plain: bool = False, own: Path | None = None
) -> Chosen:
    """The bundled recogniser, joined by vosk where its English model is there or named.

    vosk never stands alone: it was never measured on English here. Raises WorldFailedError if the
    model in `vosk_folder` is broken; one that was merely found is left out. plain: without any
    adapter. own: the adapter to this machine's owner, applied on top of the shipped one; it may not
    be there.
    """
    from assistant.recogniser import vosk_model
    from assistant.recogniser.adapter import BUNDLED
    from assistant.recogniser.constrained_whisper import ConstrainedWhisper, load_model
    from assistant.recogniser.vosk_recogniser import VoskRecogniser

    tuned = BUNDLED.is_file() and not plain
    enrolled = own is not None and own.is_file() and not plain
    adapters = [
        file for file, used in ((BUNDLED, tuned), (own, enrolled)) if used and file is not None
    ]
    parts = load_model(adapters=adapters)
    bundled, dictation = ConstrainedWhisper(parts), Dictation(parts)
    tuned_for = " and ".join(
        words for words, used in (("for noise", tuned), ("for your voice", enrolled)) if used
    )
    first = f"the bundled one, {f'tuned {tuned_for}' if tuned_for else 'as it came'}"
    folder = vosk_folder or vosk_model.find_model()
    if folder is None:
        return Chosen(bundled, f"Ear: {first} (no vosk model found).", dictation)
    try:
        second = VoskRecogniser(folder)
    except WorldFailedError as error:
        if vosk_folder is not None:
            raise
        return Chosen(bundled, f"Ear: {first} ({error}).", dictation)
    line = f"Ears: {first} and vosk ({folder.name})."
    return Chosen(CombinedRecogniser([bundled, second]), line, dictation)
