"""The automaton of answers said together, made of their parts instead of all their sentences.

Knows words and states only. What may follow an answer is one part for all answers of its subject.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce

from assistant.grammar.numbers import Words
from assistant.grammar.readings import SpokenReport
from assistant.grammar.together import Together
from assistant.recogniser.automaton import Automaton


def of_together(sentences: Together) -> Automaton:
    """Deterministic, and not minimal: a state may have a like."""
    making = _Making(sentences)
    start = making.begin()
    return Automaton(tuple(making.arcs), frozenset(making.ends), start)


class _Making:
    """The states made so far. After a first answer: one of another subject; then it may end, or a
    third follows."""

    def __init__(self, sentences: Together) -> None:
        self._sentences = sentences
        self._in_threes = set(sentences.threes)
        self._made: dict[tuple[frozenset[str], bool], int] = {}
        self._joined: dict[tuple[int, int], int] = {}
        self.arcs: list[dict[str, int]] = [{}]
        self._end = 0  # after which nothing follows
        self.ends = {self._end}

    def begin(self) -> int:
        """The state before the first word."""
        firsts = self._state()
        self._grow(firsts, self._firsts())
        starts = [self._opened(opening, firsts) for opening in self._sentences.openings]
        return reduce(self._both, starts)

    def _opened(self, opening: Words, firsts: int) -> int:
        """The state before a phrase, after which the answers may begin."""
        state = firsts
        for word in reversed(opening):
            before = self._state()
            self.arcs[before][word] = state
            state = before
        return state

    def _state(self) -> int:
        self.arcs.append({})
        return len(self.arcs) - 1

    def _firsts(self) -> Iterable[tuple[SpokenReport, int]]:
        """Each answer that may begin, with the state after it."""
        for answer in self._sentences.pairs:
            yield answer, self._after(frozenset({answer[1].what}), answer in self._in_threes)

    def _after(self, subjects: frozenset[str], may_be_three: bool) -> int:
        """The state after answers of these subjects: after one another is wanted, and after two it
        may end, or a third follows."""
        key = (subjects, may_be_three)
        if key in self._made:
            return self._made[key]
        state = self._made[key] = self._state()
        if len(subjects) == 1:
            self._grow(state, self._seconds(subjects, may_be_three))
        else:
            self.ends.add(state)
            self._grow(state, ((a, self._end) for a in self._others(subjects, threes=True)))
        return state

    def _others(self, subjects: frozenset[str], threes: bool) -> Iterable[SpokenReport]:
        answers = self._sentences.threes if threes else self._sentences.pairs
        return (answer for answer in answers if answer[1].what not in subjects)

    def _seconds(
        self, subjects: frozenset[str], may_be_three: bool
    ) -> Iterable[tuple[SpokenReport, int]]:
        for answer in self._others(subjects, threes=False):
            if may_be_three and answer in self._in_threes:
                yield answer, self._after(subjects | {answer[1].what}, True)
            else:
                yield answer, self._end

    def _grow(self, root: int, answers: Iterable[tuple[SpokenReport, int]]) -> None:
        """Each answer from this state on; the last word leads to the state after it.

        The longest first: one that begins another ends where that goes on, and there what follows
        it is added to.
        """
        for (form, _), after in sorted(answers, key=lambda each: -len(each[0][0])):
            state = root
            for word in form[:-1]:
                known = self.arcs[state].get(word)
                if known is None:
                    known = self.arcs[state][word] = self._state()
                state = known
            if (known := self.arcs[state].get(form[-1])) is None:
                self.arcs[state][form[-1]] = after
            elif known != after:
                self.arcs[state][form[-1]] = self._both(known, after)

    def _both(self, one: int, other: int) -> int:
        """A state from which goes on what goes on from either; both are whole by now."""
        key = (min(one, other), max(one, other))
        if key in self._joined:
            return self._joined[key]
        state = self._joined[key] = self._state()
        arcs = dict(self.arcs[one])
        for word, after in self.arcs[other].items():
            known = arcs.get(word)
            arcs[word] = after if known in (None, after) else self._both(known, after)
        self.arcs[state] = arcs
        if one in self.ends or other in self.ends:
            self.ends.add(state)
        return state
