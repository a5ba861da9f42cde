"""A grammar as a minimal deterministic automaton over words. Knows words and states only.

Grammars are finite (no loops), so one walk from the ends backwards makes an automaton minimal.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, eq=False)
class Automaton:
    """Deterministic: in one state a word leads to one state at most."""

    arcs: tuple[Mapping[str, int], ...]
    """For each state, word -> next state."""
    ends: frozenset[int]
    """The states in which a sentence may stop."""
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
            here = int(state in self.ends)
            counts[state] = here + sum(counts[after] for after in self.arcs[state].values())
        return counts[self.start]


def of_sentences(sentences: Iterable[tuple[str, ...]]) -> Automaton:
    """The minimal automaton of a list of sentences.

    >>> automaton = of_sentences([("water", "half"), ("glass", "half")])
    >>> len(automaton.arcs), automaton.accepts(("glass", "half")), automaton.accepts(("half",))
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
    return minimised(arcs, ends, 0)


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


def minimised(arcs: list[dict[str, int]], ends: set[int], start: int) -> Automaton:
    """The minimal automaton of a deterministic one: states with the same future become one."""
    merged: dict[int, int] = {}
    known: dict[tuple[bool, frozenset[tuple[str, int]]], int] = {}
    minimal: list[dict[str, int]] = []
    for state in _ends_first(arcs, start):
        onward = {word: merged[after] for word, after in arcs[state].items()}
        future = (state in ends, frozenset(onward.items()))
        if future not in known:
            known[future] = len(minimal)
            minimal.append(onward)
        merged[state] = known[future]
    minimal_ends = frozenset(merged[state] for state in ends if state in merged)
    return Automaton(tuple(minimal), minimal_ends, merged[start])
