"""A script of spoken lines with a simulated clock: the file's form, and its events."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from assistant.config.positioned_yaml import read_text
from assistant.errors import FileWrongError, Problem
from assistant.messages import Event, Expected, SpeechBegan, StopAsked, Tick
from assistant.recogniser.typed_recogniser import hear_typed

_TICK_S = 5.0


@dataclass(frozen=True, slots=True)
class ScriptLine:
    """One line of a script."""

    at: float
    """Time since the start [s]."""
    words: str
    """Empty: only time passes."""


def read_script(path: Path) -> list[ScriptLine]:
    """The lines of a script. Raises FileWrongError with all problems."""
    lines: list[ScriptLine] = []
    problems: list[Problem] = []
    last = 0.0
    for number, text in enumerate(read_text(path).splitlines(), 1):
        if not text.strip() or text.lstrip().startswith("#"):
            continue
        match = re.fullmatch(r"\s*(\d{1,3}):([0-5]\d):([0-5]\d)(?:\t(.*)|\s*)", text)
        if match is None:
            expected = "not a line of the form HH:MM:SS, a tab, the words"
            problems.append(Problem(str(path), number, 1, expected))
            continue
        at = 3600.0 * int(match[1]) + 60.0 * int(match[2]) + float(match[3])
        if at < last:
            problems.append(Problem(str(path), number, 1, "this time is before the line above"))
        last = max(at, last)
        lines.append(ScriptLine(at, (match[4] or "").strip()))
    if problems:
        raise FileWrongError(tuple(problems))
    return lines


def events(
    lines: list[ScriptLine], expected: Callable[[], Expected], first: Event
) -> Iterator[Event]:
    """The events of a script: the first one, ticks, each line as an utterance, and the end."""
    now = first.at
    yield first
    for line in lines:
        while now + _TICK_S < line.at:
            now += _TICK_S
            yield Tick(now)
        now = max(now, line.at)
        if line.words:
            yield SpeechBegan(now)
            yield hear_typed(line.words, expected(), now)
        else:
            yield Tick(now)
    yield StopAsked(now)
