"""Two tables of the conversation: what is open, and how loud it is. Knows no words.

Danger is no state of either: it is the rank of what is wanted. What is open is folded from the
session's state by `what_is_open`; the table says which changes of it there may be, and that silence
opens no confirmation, no note and no end.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from assistant.dialogue.event_context import EventContext
from assistant.procedure.machine import Moves


class Open(Enum):
    """What a bare "yes", "no" or number would answer."""

    NOTHING = "nothing"
    QUESTION = "question"  # a step, a reading or the plate
    CONFIRMATION = "confirmation"  # "seventy five: is that right?"
    WHICH = "which of two"  # "fifteen or fifty?"
    NOTE = "note"  # the next words are a note
    END_ASKED = "end asked"


class Loud(Enum):
    """Whether what is not urgent is spoken."""

    NORMAL = "normal"
    QUIET = "quiet"


@dataclass(frozen=True, slots=True)
class Facts:
    """What the guards may ask about one event."""

    heard: bool = False
    """An utterance was heard in it."""
    asked: bool = False
    """A question stands when all else is closed."""
    broken_off: bool = False
    """The session ended, or goes on after a break."""


_O = Open
_CLOSED = (_O.NOTHING, _O.QUESTION)
_PUT = (_O.CONFIRMATION, _O.WHICH, _O.END_ASKED)
_Row = tuple[str, Open, Open, tuple[str, ...]]


def _opening(name: str, state: Open) -> list[_Row]:
    """From every other state, by what is heard."""
    return [(name, source, state, ("heard",)) for source in Open if source is not state]


def _closing(source: Open, name: str, *guards: str) -> list[_Row]:
    """To the question that stands beneath, or to nothing."""
    return [
        (name, source, _O.QUESTION, (*guards, "asked")),
        (name, source, _O.NOTHING, guards),
    ]


# "close" and "settle" follow an answer, and time: an unanswered confirmation lapses, uncounted.
OPEN_TABLE: tuple[_Row, ...] = (
    ("ask", _O.NOTHING, _O.QUESTION, ("asked",)),
    ("settle", _O.QUESTION, _O.NOTHING, ()),
    *_opening("read_back", _O.CONFIRMATION),
    *_opening("ask_which", _O.WHICH),
    *_opening("ask_the_end", _O.END_ASKED),
    *_opening("begin_note", _O.NOTE),
    *(row for source in _PUT for row in _closing(source, "close")),
    *_closing(_O.NOTE, "take_note", "heard"),
    *_closing(_O.NOTE, "break_off", "broken_off"),
)
LOUD_TABLE: tuple[tuple[str, Loud, Loud, tuple[str, ...]], ...] = (
    ("be_quiet", Loud.NORMAL, Loud.QUIET, ("heard",)),
    ("speak_again", Loud.QUIET, Loud.NORMAL, ()),
)
_OPEN = Moves(Open, OPEN_TABLE)
_LOUD = Moves(Loud, LOUD_TABLE)

_OPENED_BY = {
    _O.CONFIRMATION: "read_back",
    _O.WHICH: "ask_which",
    _O.END_ASKED: "ask_the_end",
    _O.NOTE: "begin_note",
}


def next_open(state: Open, event_name: str, facts: Facts) -> Open:
    """What is open after an event. Raises IllegalMoveError when the table or a guard forbids it.

    >>> next_open(Open.CONFIRMATION, "close", Facts(asked=True))
    <Open.QUESTION: 'question'>
    """
    return _OPEN.after(state, event_name, facts)


def next_loud(state: Loud, event_name: str, facts: Facts) -> Loud:
    """How loud it is after an event. Raises IllegalMoveError as `next_open` does."""
    return _LOUD.after(state, event_name, facts)


def event_between(before: Open, after: Open, facts: Facts) -> str:
    """The name of the change from one state to another, whether the table allows it or not."""
    if after in _OPENED_BY:
        return _OPENED_BY[after]
    if before in _CLOSED:
        return "ask" if after is _O.QUESTION else "settle"
    if before is _O.NOTE:
        return "break_off" if facts.broken_off else "take_note"
    return "close"


def loud_now(context: EventContext) -> Loud:
    """How loud it is now."""
    over = context.elapsed(context.state.person.quiet_until)
    return Loud.NORMAL if over else Loud.QUIET


def diagrams() -> tuple[str, str]:
    """What is open and how loud, as state diagrams in Mermaid text, for the documentation."""
    return _OPEN.diagram(Open.NOTHING), _LOUD.diagram(Loud.NORMAL)
