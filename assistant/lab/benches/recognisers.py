"""The recognisers that can be measured, by name. Knows how each is made, and no sound.

"whole" is what a live session would use on this machine: all its recognisers together.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from assistant.errors import InputWrongError, WorldFailedError
from assistant.recogniser.base import Recogniser
from assistant.recogniser.choose import choose_recogniser

WHOLE = "whole"


def _plain() -> Recogniser:
    from assistant.recogniser.constrained_whisper import ConstrainedWhisper, load_model

    return ConstrainedWhisper(load_model(adapters=None))


def _tuned() -> Recogniser:
    from assistant.recogniser.constrained_whisper import ConstrainedWhisper

    return ConstrainedWhisper()


def _vosk() -> Recogniser:
    from assistant.recogniser.vosk_model import find_model
    from assistant.recogniser.vosk_recogniser import VoskRecogniser

    folder = find_model()
    if folder is None:
        raise WorldFailedError("no vosk model found")
    return VoskRecogniser(folder)


def _whole() -> Recogniser:
    return choose_recogniser().recogniser


RECOGNISERS: Mapping[str, Callable[[], Recogniser]] = {
    "plain": _plain,
    "tuned": _tuned,
    "vosk": _vosk,
    WHOLE: _whole,
}
"""Each makes a new recogniser; WorldFailedError where this machine has none of that kind."""


def recogniser(name: str) -> Recogniser:
    """A new recogniser of that name; InputWrongError for an unknown name."""
    if name not in RECOGNISERS:
        raise InputWrongError(f"no ear called {name!r}; there are {', '.join(RECOGNISERS)}")
    return RECOGNISERS[name]()


def each(names: Sequence[str] = ()) -> Iterator[tuple[str, Recogniser | str]]:
    """The recognisers of these names, or all of them, each with why where there is none.

    They are made one after another, so that only one is in memory. Where "whole" is the tuned one
    alone it is left out, unless it is asked for.
    """
    for name in names or RECOGNISERS:
        try:
            loaded = recogniser(name)
        except WorldFailedError as missing:
            yield name, str(missing)
            continue
        if name == WHOLE and not names and loaded.name == "whisper":
            yield name, "the tuned ear alone, on this machine"
            continue
        yield name, loaded
