"""Answers in one breath: found by their parts, the same as if they were listed."""

from __future__ import annotations

from itertools import pairwise, permutations

from assistant.grammar.readings import SpokenReport
from assistant.grammar.together import MOST_IN_PAIRS, Together, together
from assistant.messages import Report, Several


def answers(count: int) -> tuple[SpokenReport, ...]:
    """`count` things with two forms each."""
    forms: list[SpokenReport] = []
    for number in range(count):
        report = Report(f"thing {number}", "done")
        forms += [((f"t{number}", "done"), report), ((f"t{number}", "finished"), report)]
    return tuple(forms)


def test_one_thing_is_never_reported_twice_in_a_breath() -> None:
    made = together(answers(4))
    assert all(len({r.what for r in several.reports}) > 1 for several in made.values())
    assert ("t0", "done", "t0", "finished") not in made
    assert ("t0", "finished", "t1", "done") in made
    assert ("t0", "done", "t1", "done", "t2", "done") in made
    assert ("t0", "finished", "t1", "done", "t2", "done") not in made  # first forms only
    assert ("t0", "done") not in made


def test_every_two_and_three_are_found_as_they_are_listed() -> None:
    forms = answers(5)
    made = together(forms)
    expected = {
        (*a, *b): Several((one, other))
        for (a, one), (b, other) in permutations(forms, 2)
        if one.what != other.what
    }
    firsts = forms[::2]
    expected |= {
        (*a, *b, *c): Several((one, two, three))
        for (a, one), (b, two), (c, three) in permutations(firsts, 3)
    }
    assert dict(made) == expected
    assert len(made) == len(expected)


def test_the_number_of_sentences_is_bounded() -> None:
    sizes = [len(together(answers(n))) for n in (10, 30, 60)]
    assert all(less <= more for less, more in pairwise(sizes))
    assert sizes[1] == sizes[2] < 3_000
    assert len(together(answers(60)).pairs) == MOST_IN_PAIRS


def test_after_a_phrase_they_mean_the_same() -> None:
    plain = together(answers(3))
    opened = plain.opened(("engine", "minder"))
    assert len(opened) == 2 * len(plain)
    for words, several in plain.items():
        assert opened[words] == opened["engine", "minder", *words] == several
    assert ("engine", "minder") not in opened


def test_the_same_answers_are_one_object() -> None:
    assert together(answers(3)) is together(answers(3))
    assert together(answers(3)) != Together(answers(3), answers(3)[::2])
