"""What can be said now: troubles first, few words, in the unit of the dial."""

from __future__ import annotations

import pytest

from assistant.grammar.phrases import grammar
from assistant.messages import Expected, Report
from assistant.wording import readback
from assistant.wording.help_words import (
    ALL_TROUBLES,
    MOST_WORDS,
    PRESSURES,
    help_words,
    pressure_example,
    trouble_words,
)
from assistant.wording.quantities import word_count

ANSWERS = ((), ("gear is out", "gear is in"), ("glass comes back at once", "glass stays empty"))


@pytest.mark.parametrize("answers", ANSWERS)
@pytest.mark.parametrize("danger", [False, True])
@pytest.mark.parametrize("hot", [False, True])
def test_troubles_come_first_and_few_words_in_all(
    hot: bool, danger: bool, answers: tuple[str, ...]
) -> None:
    for dial in PRESSURES:
        said = help_words(hot, answers, dial, danger)
        assert said.startswith("In trouble: ")
        assert word_count(said) <= MOST_WORDS
        assert all(answer in said for answer in answers)
        assert ("no water in sight" in said) is hot


def test_while_a_danger_stands_its_end_is_offered() -> None:
    assert "Also: danger is over" in help_words(True, (), "psi", danger=True)


@pytest.mark.parametrize("dial", PRESSURES)
def test_a_pressure_is_shown_as_its_dial_reads(dial: str) -> None:
    meant = grammar(Expected(pressure_unit=dial)).parse(pressure_example(dial))
    assert isinstance(meant, Report) and (meant.what, meant.unit) == ("pressure", dial)
    assert pressure_example(dial) in help_words(True, (), dial)
    assert pressure_example(dial) in readback.nonsense("pressure", dial=dial)
    assert pressure_example(dial) in readback.not_a_yes("pressure", dial=dial)


def test_every_trouble_offered_is_a_danger() -> None:
    assert word_count(trouble_words()) <= MOST_WORDS
    for form in ALL_TROUBLES:
        meant = grammar(Expected("answer")).parse(form)
        assert isinstance(meant, Report)
        assert meant.what == "emergency" or meant.value == "out of sight"
