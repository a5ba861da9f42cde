"""The ears that can be measured, by name: one list. Knows how each is made, and no sound.

"whole" is what a live session would hear with on this machine: all its ears together.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from assistant.errors import InputWrongError, WorldFailedError
from assistant.recogniser.base import Recogniser
from assistant.recogniser.choose import choose_recogniser

WHOLE = "whole"


def _plain() -> Recogniser:
    from assistant.recogniser.constrained_whisper import ConstrainedWhisper, load_model

    return ConstrainedWhisper(load_model(changes=None))


def _tuned() -> Recogniser:
    from assistant.recogniser.constrained_whisper import ConstrainedWhisper

    return ConstrainedWhisper()


def _vosk() -> Recogniser:
    from assistant.recogniser import vosk_recogniser

    found = vosk_recogniser.find_model()
    if found is None:
        raise WorldFailedError("no vosk model found")
    return vosk_recogniser.VoskRecogniser(found)


def _whole() -> Recogniser:
    return choose_recogniser().ear


EARS: Mapping[str, Callable[[], Recogniser]] = {
    "plain": _plain,
    "tuned": _tuned,
    "vosk": _vosk,
    WHOLE: _whole,
}
"""Each makes an ear anew; WorldFailedError where this machine has none of that kind."""


def ear(name: str) -> Recogniser:
    """The ear of that name. InputWrongError for another name."""
    if name not in EARS:
        raise InputWrongError(f"no ear called {name!r}; there are {', '.join(EARS)}")
    return EARS[name]()


def each(names: Sequence[str] = ()) -> Iterator[tuple[str, Recogniser | str]]:
    """The ears of these names, or all there are: one after another, so that one at a time is in
    memory; or why there is none. A whole that is the tuned ear alone is not gone through twice."""
    for name in names or EARS:
        try:
            made = ear(name)
        except WorldFailedError as missing:
            yield name, str(missing)
            continue
        if name == WHOLE and not names and made.name == "whisper":
            yield name, "the tuned ear alone, on this machine"
            continue
        yield name, made
