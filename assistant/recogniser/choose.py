"""Which ear is in use on this machine, and the one line that says so. Knows no sound."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from assistant.errors import WorldFailedError
from assistant.recogniser.base import Grammar, NBest, Recogniser, Sound
from assistant.recogniser.dictation import Dictation
from assistant.recogniser.hypotheses import product_of_experts


@dataclass(frozen=True, slots=True)
class Chosen:
    """The ear, a line for the person, and what writes notes down in any words."""

    ear: Recogniser
    line: str
    dictation: Dictation | None = None


class CombinedRecogniser:
    """Two ears of different make on one utterance."""

    def __init__(self, ears: Sequence[Recogniser]) -> None:
        self._ears = tuple(ears)
        self.name = "+".join(ear.name for ear in self._ears)

    def prepare(self, grammar: Grammar) -> None:
        """Prepare each."""
        for ear in self._ears:
            ear.prepare(grammar)

    def hear(self, sound: Sound, grammar: Grammar) -> NBest:
        """What they make of it together."""
        return product_of_experts([ear.hear(sound, grammar) for ear in self._ears])


def choose_recogniser(
    model: Path | None = None, plain: bool = False, own: Path | None = None
) -> Chosen:
    """The bundled ear, joined by vosk where its English model is found (or given as `model`).

    The bundled ear always stands: vosk alone was never measured on English here. Raises
    WorldFailedError if `model` was asked for and is broken; one that was merely found is left out.
    plain: the bundled ear as it came, without what was learnt for the footplate. own: differences
    learnt from this machine's owner, laid on those; it may not be there.
    """
    from assistant.recogniser import vosk_recogniser
    from assistant.recogniser.adapter import BUNDLED
    from assistant.recogniser.constrained_whisper import ConstrainedWhisper, load_model

    tuned = BUNDLED.is_file() and not plain
    mine = own is not None and own.is_file() and not plain
    files = [file for file, there in ((BUNDLED, tuned), (own, mine)) if there and file is not None]
    parts = load_model(changes=files)
    bundled, dictation = ConstrainedWhisper(parts), Dictation(parts)
    manner = " and ".join(
        told for told, there in (("for noise", tuned), ("for your voice", mine)) if there
    )
    first = f"the bundled one, {f'tuned {manner}' if manner else 'as it came'}"
    found = model or vosk_recogniser.find_model()
    if found is None:
        return Chosen(bundled, f"Ear: {first} (no vosk model found).", dictation)
    try:
        second = vosk_recogniser.VoskRecogniser(found)
    except WorldFailedError as error:
        if model is not None:
            raise
        return Chosen(bundled, f"Ear: {first} ({error}).", dictation)
    line = f"Ears: {first} and vosk ({found.name})."
    return Chosen(CombinedRecogniser([bundled, second]), line, dictation)
