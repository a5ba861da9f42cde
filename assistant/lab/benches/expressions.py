"""Grammars written as expressions: words in sequence, in alternatives, in any order.

Knows words and states; knows no meaning.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import permutations

from assistant.recogniser.automaton import Automaton, minimised


class _Net:
    """States joined by words or by nothing (None), before it is made deterministic."""

    def __init__(self) -> None:
        self.arcs: list[list[tuple[str | None, int]]] = []

    def state(self) -> int:
        self.arcs.append([])
        return len(self.arcs) - 1

    def closure(self, states: Iterable[int]) -> frozenset[int]:
        """These states and all that are reached from them without a word."""
        reached = set(states)
        stack = list(reached)
        while stack:
            for word, after in self.arcs[stack.pop()]:
                if word is None and after not in reached:
                    reached.add(after)
                    stack.append(after)
        return frozenset(reached)


@dataclass(frozen=True, slots=True)
class Expression:
    """One of: a word; parts one after another; one of several parts (none of them: nothing)."""

    kind: str
    text: str = ""
    parts: tuple[Expression, ...] = ()

    def _add_to(self, net: _Net, begin: int) -> int:
        """Add it to the net from `begin`; returns the state it ends in."""
        if self.kind == "seq":
            for part in self.parts:
                begin = part._add_to(net, begin)
            return begin
        finish = net.state()
        if self.kind == "word":
            net.arcs[begin].append((self.text, finish))
        for part in self.parts:
            net.arcs[part._add_to(net, begin)].append((None, finish))
        return finish


def seq(*parts: Expression | str) -> Expression:
    """All of them, one after another. A text stands for its words."""
    return Expression("seq", parts=tuple(map(_expression, parts)))


def alt(*parts: Expression | str) -> Expression:
    """One of them."""
    return Expression("alt", parts=tuple(map(_expression, parts)))


def opt(*parts: Expression | str) -> Expression:
    """All of them one after another, or nothing."""
    return alt(seq(*parts), seq())


def any_order(*parts: Expression | str) -> Expression:
    """Each of them once, in any order; with parts of `opt` each at most once."""
    return alt(*(seq(*order) for order in permutations(parts)))


def _expression(part: Expression | str) -> Expression:
    if isinstance(part, Expression):
        return part
    return Expression("seq", parts=tuple(Expression("word", word) for word in part.split()))


def build(expression: Expression) -> Automaton:
    """The minimal automaton of an expression.

    >>> automaton = build(seq(opt("a"), any_order(opt("small"), opt("dark", "roast")), "coffee"))
    >>> automaton.count(), automaton.accepts("a dark roast small coffee".split())
    (10, True)
    """
    net = _Net()
    first = net.state()
    finish = expression._add_to(net, first)
    begin = net.closure([first])
    numbers = {begin: 0}
    arcs: list[dict[str, int]] = []
    todo = [begin]
    for states in todo:  # grows while it is walked
        by_word: dict[str, set[int]] = {}
        for state in states:
            for word, after in net.arcs[state]:
                if word is not None:
                    by_word.setdefault(word, set()).add(after)
        onward: dict[str, int] = {}
        for word, afters in by_word.items():
            closed = net.closure(afters)
            if closed not in numbers:
                numbers[closed] = len(numbers)
                todo.append(closed)
            onward[word] = numbers[closed]
        arcs.append(onward)
    return minimised(arcs, {numbers[s] for s in numbers if finish in s}, 0)
