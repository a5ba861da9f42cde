"""Tables of moves: what moves, what is refused, and that a table is built once."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

import pytest

from assistant.procedure.machine import IllegalMoveError, Moves


class Gate(Enum):
    SHUT = "shut"
    OPEN = "open"
    LOCKED = "locked"


@dataclass(frozen=True)
class Facts:
    have_key: bool = False


MOVES = Moves(
    Gate,
    (
        ("push", Gate.SHUT, Gate.OPEN, ()),
        ("lock", Gate.SHUT, Gate.LOCKED, ("have_key",)),
        ("turn", Gate.LOCKED, Gate.SHUT, ("have_key",)),
        ("turn", Gate.LOCKED, Gate.LOCKED, ()),
    ),
)


def test_a_move_leads_where_the_table_says_and_a_guard_stops_it() -> None:
    assert MOVES.after(Gate.SHUT, "push", Facts()) is Gate.OPEN
    assert MOVES.after(Gate.SHUT, "lock", Facts(have_key=True)) is Gate.LOCKED
    with pytest.raises(IllegalMoveError):
        MOVES.after(Gate.SHUT, "lock", Facts())


def test_of_two_rows_the_first_whose_guards_hold_is_taken() -> None:
    assert MOVES.after(Gate.LOCKED, "turn", Facts(have_key=True)) is Gate.SHUT
    assert MOVES.after(Gate.LOCKED, "turn", Facts()) is Gate.LOCKED


@pytest.mark.parametrize("name", ["push", "fly", "", "to_OPEN", "trigger"])
def test_what_the_table_does_not_have_raises(name: str) -> None:
    with pytest.raises(IllegalMoveError):
        MOVES.after(Gate.OPEN, name, Facts(have_key=True))


def test_a_question_leaves_nothing_behind() -> None:
    for _ in range(2):
        assert MOVES.after(Gate.SHUT, "push", Facts()) is Gate.OPEN


def test_a_table_is_built_once() -> None:
    MOVES.after(Gate.SHUT, "push", Facts())
    built = MOVES._built
    MOVES.after(Gate.LOCKED, "turn", Facts())
    assert MOVES._built is built


def test_the_drawing() -> None:
    assert MOVES.diagram(Gate.SHUT, Gate.OPEN).splitlines()[1:3] == [
        "[*] --> shut",
        "shut --> open: push",
    ]
    assert "shut --> locked: lock [have key]" in MOVES.diagram(Gate.SHUT)
