"""Tables of legal moves between states. The only module that knows `transitions`.

Knows no state by name. A table is built into a machine once, when it is first asked. Moves have
guards and no side effects or time-outs, and asking changes nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from functools import cached_property
from operator import attrgetter
from typing import Any, Generic, TypeVar

from assistant.errors import FootplateError

S = TypeVar("S", bound=Enum)


class IllegalMoveError(FootplateError):
    """A move that the table does not have from this state, or whose guard says no."""


class _Holder:
    """What `transitions` wants to write a state on; it is set anew for every question."""

    state: Any


class Moves(Generic[S]):
    """All legal moves between the members of an Enum.

    rows: (move, from, to, guards). Guards are names of truth values of the facts; of two rows with
    one move and one source the first whose guards hold is taken.
    """

    def __init__(self, states: type[S], rows: Sequence[tuple[str, S, S, tuple[str, ...]]]) -> None:
        self.states = states
        self.rows = tuple(rows)
        self.names = tuple(dict.fromkeys(name for name, *_ in self.rows))

    @cached_property
    def _built(self) -> tuple[Any, Any]:
        """The machine and its holder."""
        from transitions import Machine

        holder = _Holder()
        machine = Machine(
            model=holder, states=self.states, initial=next(iter(self.states)),
            auto_transitions=False, queued=False, send_event=False,
        )  # fmt: skip
        for name, source, dest, guards in self.rows:
            conditions: list[Any] = [attrgetter(guard) for guard in guards]
            machine.add_transition(name, source, dest, conditions=conditions)
        return machine, holder

    def after(self, state: S, name: str, facts: object) -> S:
        """The state after a move. Raises IllegalMoveError when the table or a guard forbids it."""
        from transitions import MachineError

        if name not in self.names:
            raise IllegalMoveError(f"there is no move {name!r}")
        machine, holder = self._built
        machine.set_state(state, holder)
        try:
            moved = holder.trigger(name, facts)
        except MachineError:
            moved = False
        if not moved:
            raise IllegalMoveError(f"no {name!r} from {state.value}")
        return self.states(holder.state)

    def diagram(self, first: S, last: S | None = None) -> str:
        """The table as a state diagram in Mermaid text, for the documentation."""
        lines = ["stateDiagram-v2"]
        lines += [
            f'state "{s.value}" as {s.name.lower()}'
            for s in self.states
            if s.value != s.name.lower()
        ]
        lines.append(f"[*] --> {first.name.lower()}")
        for name, source, dest, guards in self.rows:
            guard = f" [{', '.join(guards)}]" if guards else ""
            label = f"{name}{guard}".replace("_", " ")
            lines.append(f"{source.name.lower()} --> {dest.name.lower()}: {label}")
        if last is not None:
            lines.append(f"{last.name.lower()} --> [*]")
        return "\n".join(lines) + "\n"
