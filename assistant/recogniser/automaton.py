"""A grammar as a minimal deterministic automaton over words. Knows words and states only.

Grammars are finite (no loops), so one walk from the ends backwards makes an automaton minimal.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import permutations


@dataclass(frozen=True, slots=True, eq=False)
class Automaton:
    """arcs: for each state, word -> next state. ends: the states in which a sentence may stop."""

    arcs: tuple[Mapping[str, int], ...]
    ends: frozenset[int]
    start: int = 0

    def accepts(self, words: Iterable[str]) -> bool:
        """Whether these words are a sentence."""
        state: int | None = self.start
        for word in words:
            state = self.arcs[state].get(word) if state is not None else None
        return state in self.ends

    def words(self) -> frozenset[str]:
        """Every word there is."""
        return frozenset(word for arcs in self.arcs for word in arcs)

    def count(self) -> int:
        """How many sentences there are."""
        counts: dict[int, int] = {}
        for state in _ends_first(self.arcs, self.start):
            own = int(state in self.ends)
            counts[state] = own + sum(counts[after] for after in self.arcs[state].values())
        return counts[self.start]


def of_sentences(sentences: Iterable[tuple[str, ...]]) -> Automaton:
    """The minimal automaton of a list of sentences.

    >>> made = of_sentences([("water", "half"), ("glass", "half")])
    >>> len(made.arcs), made.accepts(("glass", "half")), made.accepts(("half",))
    (3, True, False)
    """
    arcs: list[dict[str, int]] = [{}]
    ends: set[int] = set()
    for sentence in sentences:
        state = 0
        for word in sentence:
            after = arcs[state].get(word)
            if after is None:
                after = len(arcs)
                arcs.append({})
                arcs[state][word] = after
            state = after
        ends.add(state)
    return _minimal(arcs, ends, 0)


def _ends_first(
    arcs: tuple[Mapping[str, int], ...] | list[dict[str, int]], start: int
) -> list[int]:
    """States reached from `start`, each after all the states it leads to."""
    order: list[int] = []
    seen = {start}
    stack: list[tuple[int, Iterator[int]]] = [(start, iter(arcs[start].values()))]
    while stack:
        state, afters = stack[-1]
        for after in afters:
            if after not in seen:
                seen.add(after)
                stack.append((after, iter(arcs[after].values())))
                break
        else:
            order.append(state)
            stack.pop()
    return order


def _minimal(arcs: list[dict[str, int]], ends: set[int], start: int) -> Automaton:
    """States with the same future become one."""
    merged: dict[int, int] = {}
    known: dict[tuple[bool, frozenset[tuple[str, int]]], int] = {}
    kept: list[dict[str, int]] = []
    for state in _ends_first(arcs, start):
        onward = {word: merged[after] for word, after in arcs[state].items()}
        future = (state in ends, frozenset(onward.items()))
        if future not in known:
            known[future] = len(kept)
            kept.append(onward)
        merged[state] = known[future]
    kept_ends = frozenset(merged[state] for state in ends if state in merged)
    return Automaton(tuple(kept), kept_ends, merged[start])


# --- grammars written as expressions ------------------------------------------------------------


class _Net:
    """States joined by words or by nothing (None), before it is made deterministic."""

    def __init__(self) -> None:
        self.arcs: list[list[tuple[str | None, int]]] = []

    def state(self) -> int:
        self.arcs.append([])
        return len(self.arcs) - 1

    def closure(self, states: Iterable[int]) -> frozenset[int]:
        """These states and all that are reached from them without a word."""
        found = set(states)
        stack = list(found)
        while stack:
            for word, after in self.arcs[stack.pop()]:
                if word is None and after not in found:
                    found.add(after)
                    stack.append(after)
        return frozenset(found)


@dataclass(frozen=True, slots=True)
class Expression:
    """One of: a word; parts one after another; one of several parts (none of them: nothing)."""

    kind: str
    text: str = ""
    parts: tuple[Expression, ...] = ()

    def _lay(self, net: _Net, begin: int) -> int:
        """Put it into the net from `begin`; the state it ends in."""
        if self.kind == "seq":
            for part in self.parts:
                begin = part._lay(net, begin)
            return begin
        finish = net.state()
        if self.kind == "word":
            net.arcs[begin].append((self.text, finish))
        for part in self.parts:
            net.arcs[part._lay(net, begin)].append((None, finish))
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

    >>> made = build(seq(opt("a"), any_order(opt("small"), opt("dark", "roast")), "coffee"))
    >>> made.count(), made.accepts("a dark roast small coffee".split())
    (10, True)
    """
    net = _Net()
    first = net.state()
    finish = expression._lay(net, first)
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
    return _minimal(arcs, {numbers[s] for s in numbers if finish in s}, 0)
