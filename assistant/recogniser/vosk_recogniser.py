"""The ear for those who have its model: vosk, held to a list of words, read strictly by grammar.

The only module that imports vosk. Its grammar is a loose word model and its confidence is no
measure of safety, so a result counts only if it is exactly a sentence, and never for certain.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import types
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import exp
from pathlib import Path
from typing import Any
from weakref import WeakKeyDictionary

import numpy as np

from assistant.errors import WorldFailedError
from assistant.messages import SPEECH_RATE_HZ, Alternative, Meaning
from assistant.recogniser.automaton import Automaton
from assistant.recogniser.base import Grammar, NBest, Sound

MODELS = Path("models/speech")
ENGLISH = "vosk-model*-en*"
ANY_WORD = "[unk]"  # what the model gives for sound that is none of the grammar's words
NEVER_SURER = 0.9  # its English figures are not known, so alone it can never count as certain
LIST_LENGTH = 10
RESET_AFTER_S = 180.0  # of sound; it grows by about 4 MB a minute (measured)

# A folder without one of these makes vosk end the process or fail late.
_NEEDED = ("am/final.mdl", "conf/mfcc.conf")
_GRAPHS = (("graph/HCLr.fst", "graph/Gr.fst"), ("graph/HCLG.fst",))


def _library() -> Any:
    """vosk itself. Its subtitle writer's `srt` is not installed and is never used by us."""
    try:
        sys.modules.setdefault("srt", types.ModuleType("srt"))
        import vosk
    except (ImportError, OSError) as error:
        raise WorldFailedError(f"vosk cannot be loaded ({error})") from error
    vosk.SetLogLevel(-1)
    return vosk


def model_folders() -> tuple[Path, ...]:
    """Folders in which a model may lie: beside the engines, then vosk's own."""
    own = os.environ.get("VOSK_MODEL_PATH")
    return (
        MODELS,
        *([Path(own)] if own else []),
        Path("/usr/share/vosk"),
        Path.home() / ".cache" / "vosk",
    )


def find_model(where: Iterable[Path] | None = None, pattern: str = ENGLISH) -> Path | None:
    """The folder of an English model; the largest name last, so the small one is taken first."""
    for folder in where if where is not None else model_folders():
        if looks_whole(folder):
            return folder
        found = sorted(path for path in folder.glob(pattern) if path.is_dir())
        small_first = sorted(found, key=lambda path: "small" not in path.name)
        if small_first:
            return small_first[0]
    return None


def looks_whole(folder: Path) -> bool:
    """Whether the files are there without which vosk cannot even begin."""
    return not missing_files(folder)


def missing_files(folder: Path) -> tuple[str, ...]:
    """The files a model lacks."""

    def there(name: str) -> bool:
        return (folder / name).is_file() and (folder / name).stat().st_size > 0

    lacking = tuple(name for name in _NEEDED if not there(name))
    if any(all(there(name) for name in graph) for graph in _GRAPHS):
        return lacking
    return (*lacking, _GRAPHS[0][0])


def check_model(folder: Path, timeout_s: float = 120.0) -> None:
    """Load the model once in a process of its own, for a broken one may end the process.

    Raises WorldFailedError with one line if it cannot be used.
    """
    lacking = missing_files(folder)
    if lacking:
        raise WorldFailedError(f"{folder}: not a whole vosk model, it lacks {', '.join(lacking)}")
    trial = (
        "import sys; from pathlib import Path; "
        "from assistant.recogniser.vosk_recogniser import _trial; _trial(Path(sys.argv[1]))"
    )
    try:
        done = subprocess.run(
            [sys.executable, "-c", trial, str(folder)],
            capture_output=True, timeout=timeout_s, check=False,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        raise WorldFailedError(
            f"{folder}: this vosk model does not load in {timeout_s:.0f} s"
        ) from None
    if done.returncode:
        raise WorldFailedError(f"{folder}: a broken vosk model; fetch it again")


def _trial(folder: Path) -> None:
    """Load it and hear half a second of nothing."""
    vosk = _library()
    recognizer = vosk.KaldiRecognizer(vosk.Model(str(folder)), SPEECH_RATE_HZ)
    recognizer.AcceptWaveform(bytes(SPEECH_RATE_HZ))
    recognizer.FinalResult()


@dataclass(frozen=True, slots=True)
class Partial:
    """While a stream goes on: `ended` tells that vosk found the end of an utterance."""

    ended: bool
    opinion: NBest | None


class VoskRecogniser:
    """An Ear, and a stream of utterances for those who feed it block by block."""

    name = "vosk"

    def __init__(self, folder: Path, checked: bool = False) -> None:
        """Load the model in `folder`. checked: it was loaded here before, so no trial is made.

        Raises WorldFailedError with one line for a folder that is no whole model.
        """
        if not checked:
            check_model(folder)
        elif missing_files(folder):
            raise WorldFailedError(f"{folder}: not a whole vosk model")
        self._vosk = _library()
        try:
            self._model = self._vosk.Model(str(folder))
        except Exception as error:  # vosk raises nothing more precise
            raise WorldFailedError(f"{folder}: vosk cannot load it ({error})") from error
        self._texts: WeakKeyDictionary[Grammar, str] = WeakKeyDictionary()
        self._recognizer: Any = None
        self._grammar: Grammar | None = None
        self._heard_s = 0.0

    def missing_words(self, grammar: Grammar) -> tuple[str, ...]:
        """Words of the grammar that the model lacks: they can never be heard."""
        words = {word for sentence in grammar.sentences for word in sentence}
        if isinstance(automaton := getattr(grammar, "automaton", None), Automaton):
            words = set(automaton.words())
        return tuple(sorted(word for word in words if not self._knows(word)))

    def prepare(self, grammar: Grammar) -> None:
        """Make the recogniser for this grammar. WorldFailedError if it knows none of its words."""
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
        opinion = self._opinion(self._recognizer.FinalResult(), grammar)
        self._recognizer.Reset()
        return opinion

    def feed(self, block: Sound, grammar: Grammar) -> Partial:
        """One block of a stream; vosk finds the end of speech itself."""
        self.prepare(grammar)
        self._heard_s += len(block) / SPEECH_RATE_HZ
        if not self._recognizer.AcceptWaveform(_pcm(block)):
            return Partial(False, None)
        opinion = self._opinion(self._recognizer.Result(), grammar)
        self._refresh(grammar)
        return Partial(True, opinion)

    def _refresh(self, grammar: Grammar) -> None:
        """A new recogniser for a new grammar, and every few minutes."""
        if self._heard_s > RESET_AFTER_S:
            self._recognizer = None
        self.prepare(grammar)

    def _knows(self, word: str) -> bool:
        return int(self._model.vosk_model_find_word(word)) >= 0

    def _text(self, grammar: Grammar) -> str:
        """The grammar as vosk wants it: a list of phrases, JSON. Anything else ends the process."""
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

    def _opinion(self, result: str, grammar: Grammar) -> NBest:
        listed = read_result(result)
        heard: dict[Meaning, tuple[float, str]] = {}
        everything = 0.0
        top = max((score for _, score in listed), default=0.0)
        for words, score in listed:
            weight = exp(score - top)
            everything += weight
            meaning = grammar.meaning(words)
            if meaning is not None:
                before, text = heard.get(meaning, (0.0, " ".join(words)))
                heard[meaning] = (before + weight, text)
        alternatives = [
            Alternative(meaning, text, NEVER_SURER * weight / everything)
            for meaning, (weight, text) in heard.items()
        ]
        alternatives.sort(key=lambda alternative: -alternative.probability)
        said = " ".join(listed[0][0]) if listed else ""
        return NBest(self.name, tuple(alternatives), text=said)


def read_result(result: str) -> list[tuple[tuple[str, ...], float]]:
    """Words and score of each alternative in vosk's JSON; silence gives none.

    >>> read_result('{"alternatives": [{"text": "water half", "confidence": 3.5}]}')
    [(('water', 'half'), 3.5)]
    """
    listed: Sequence[dict[str, Any]] = json.loads(result).get("alternatives", [])
    return [
        (tuple(one["text"].split()), float(one.get("confidence", 0.0)))
        for one in listed
        if one.get("text", "").strip()
    ]


def _pcm(sound: Sound) -> bytes:
    clipped = np.clip(sound, -1, 1)
    return bytes((clipped * 32767).astype("<i2").tobytes())


def fetch_model(progress: Callable[[str], None], into: Path = MODELS) -> Path:
    """Fetch the small English model with vosk's own downloader, and try it. The only use of a net.

    Returns its folder. Raises WorldFailedError with one line if it cannot be had or does not load.
    """
    vosk = _library()
    progress("asking vosk for its list of models")
    try:
        import requests

        answer = requests.get(vosk.MODEL_LIST_URL, timeout=10)
        answer.raise_for_status()
        names = [
            one["name"]
            for one in answer.json()
            if one["lang"] == "en-us" and one["type"] == "small" and one["obsolete"] == "false"
        ]
        if not names:
            raise WorldFailedError("vosk lists no small English model any more")
        folder = into / str(names[0])
        progress(f"fetching {names[0]}")
        into.mkdir(parents=True, exist_ok=True)
        vosk.Model.download_model(_Downloader(), folder)
    except WorldFailedError:
        raise
    except Exception as error:  # requests, urllib, zipfile and the socket each raise their own
        reason = str(error).splitlines()[0] if str(error) else type(error).__name__
        raise WorldFailedError(f"the vosk model cannot be fetched: {reason[:160]}") from error
    progress(f"trying {folder.name}")
    check_model(folder)
    return folder


class _Downloader:
    """What vosk's downloader wants of a model object: a hook for its progress bar."""

    def download_progress_hook(self, bar: Any) -> Callable[..., Any]:
        seen = [0]

        def update(blocks: int = 1, size: int = 1, total: int | None = None) -> Any:
            if total not in (None, -1):
                bar.total = total
            moved = bar.update((blocks - seen[0]) * size)
            seen[0] = blocks
            return moved

        return update
