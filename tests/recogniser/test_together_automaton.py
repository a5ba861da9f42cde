"""The automaton of answers together accepts what is listed, and nothing else."""

from __future__ import annotations

from hypothesis import example, given
from hypothesis import strategies as st

from assistant.grammar.readings import SpokenReport
from assistant.grammar.together import Together, together
from assistant.messages import Report
from assistant.recogniser.automaton import Automaton, of_sentences
from assistant.recogniser.together_automaton import of_together

WORDS = st.sampled_from("abc")
FORMS = st.lists(
    st.lists(WORDS, min_size=1, max_size=3).map(tuple), min_size=2, max_size=8, unique=True
)
SUBJECTS = st.lists(st.integers(0, 4), min_size=8, max_size=8)


def sentences_of(automaton: Automaton) -> list[tuple[str, ...]]:
    found, left = [], [((), automaton.start)]
    while left:
        words, state = left.pop()
        if state in automaton.ends:
            found.append(words)
        left += [((*words, word), after) for word, after in automaton.arcs[state].items()]
    return found


def made_of(forms: list[tuple[str, ...]], subjects: list[int]) -> Together:
    answers: list[SpokenReport] = [
        (form, Report(f"part {subject}", "done"))
        for form, subject in zip(forms, subjects, strict=False)
    ]
    return together(tuple(answers))


@given(FORMS, SUBJECTS)
@example([("a",), ("a", "b"), ("b",), ("c",)], [0, 1, 2, 3, 0, 0, 0, 0])
@example([("a", "b"), ("a",), ("b", "a"), ("a", "a")], [0, 0, 1, 2, 0, 0, 0, 0])
def test_every_sentence_once_and_no_other(
    forms: list[tuple[str, ...]], subjects: list[int]
) -> None:
    made = made_of(forms, subjects)
    for each in (made, made.opened(("a",)), made.opened(("c", "b"))):
        found = sentences_of(of_together(each))
        assert len(found) == len(set(found))
        assert set(found) == set(each)
        assert of_sentences(each).count() == len(found)


def test_it_is_small_beside_what_it_accepts() -> None:
    made = made_of([(f"part {n}", "is", "done") for n in range(8)], [*range(8)])
    automaton = of_together(made)
    words = sum(len(sentence) for sentence in made)
    assert sum(map(len, automaton.arcs)) < words / 2
