"""Answers to several steps in one breath ("ash pan clean, tubes swept"), told by their parts.

There are thousands of such sentences for each question, and few are ever said: they are looked up
by where they can be divided, and listed only for whoever wants the list. Knows words only.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property, lru_cache
from itertools import combinations, pairwise, permutations

from assistant.grammar.numbers import Words
from assistant.grammar.readings import SpokenReport
from assistant.messages import Several

MOST_IN_PAIRS = 40  # answer forms, nearest step first, that may be said two at a time
MOST_IN_THREES = 10  # answers, nearest step first, whose first forms may be said three at a time


class Together(Mapping[Words, Several]):
    """Two answers at a time in every form, three at a time in the first form of each.

    Each object is itself alone, so that a recogniser can keep what it makes of it.
    """

    def __init__(
        self,
        pairs: Sequence[SpokenReport],
        threes: Sequence[SpokenReport],
        openings: tuple[Words, ...] = ((),),
    ) -> None:
        self.pairs = tuple(pairs)
        """What may be said two at a time; of one subject no two are joined."""
        self.threes = tuple(threes)
        """Those of them that may be said three at a time."""
        self.openings = openings
        """Words with which a sentence begins, any of them; none is an opening too."""

    def opened(self, phrase: Words) -> Together:
        """The same, also after a phrase."""
        more = tuple((*phrase, *opening) for opening in self.openings)
        return Together(self.pairs, self.threes, (*self.openings, *more))

    @cached_property
    def _by_size(self) -> tuple[tuple[int, dict[Words, SpokenReport]], ...]:
        return tuple(
            (size, {each[0]: each for each in candidates})
            for size, candidates in ((2, self.pairs), (3, self.threes))
        )

    def __getitem__(self, words: Words) -> Several:
        for opening in self.openings:
            if words[: len(opening)] != opening:
                continue
            for size, by_form in self._by_size:
                if (found := _divided(words[len(opening) :], size, by_form)) is not None:
                    return found
        raise KeyError(words)

    def __iter__(self) -> Iterator[Words]:
        """Every sentence once."""
        return iter(
            dict.fromkeys(
                (*opening, *(word for form, _ in group for word in form))
                for opening in self.openings
                for candidates, size in ((self.pairs, 2), (self.threes, 3))
                for group in permutations(candidates, size)
                if len({report.what for _, report in group}) == size
            )
        )

    def __len__(self) -> int:
        return sum(1 for _ in self)

    def __hash__(self) -> int:
        return id(self)

    def __eq__(self, other: object) -> bool:
        return self is other


def _divided(words: Words, parts: int, by_form: Mapping[Words, SpokenReport]) -> Several | None:
    """What the words mean as so many answers of different subjects, divided as early as can be."""
    for cuts in combinations(range(1, len(words)), parts - 1):
        ends = (0, *cuts, len(words))
        found = [by_form.get(words[a:b]) for a, b in pairwise(ends)]
        reports = tuple(each[1] for each in found if each is not None)
        if len(reports) == parts and len({report.what for report in reports}) == parts:
            return Several(reports)
    return None


@lru_cache(maxsize=64)
def together(answers: tuple[SpokenReport, ...]) -> Together:
    """What can be said of these answers in one breath; nearest step first, each form once."""
    pairs = answers[:MOST_IN_PAIRS]
    first_forms = {report: form for form, report in reversed(pairs)}
    firsts = [(form, report) for form, report in pairs if first_forms[report] == form]
    return Together(pairs, firsts[:MOST_IN_THREES])
