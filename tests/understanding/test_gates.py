"""The acceptance gates: their order, what is too faint, and what is not judged by its sound."""

from __future__ import annotations

import pytest

from assistant.messages import TYPED, Heard
from assistant.understanding import gates
from assistant.understanding.gates import Gate
from assistant.understanding.phrase_form import PhraseForm


def heard(
    log_ratio: float | None, average: float | None, ear: str = "test ear", audio_s: float = 2.0
) -> Heard:
    return Heard(1.0, ear, (), log_ratio, average, audio_s)


@pytest.mark.parametrize("sort", list(gates.GATES))
def test_each_gate_asks_for_less_than_the_one_before(sort: PhraseForm) -> None:
    found = gates.GATES[sort]
    order = [found.take, found.ask, found.faint]
    assert order == sorted(order, key=lambda gate: (-gate.log_ratio, -gate.average))
    # What nothing asks for and may not be taken is not asked about, but for words and numbers.
    assert (found.ask == found.take) == (sort in ("phrase", "named"))


@pytest.mark.parametrize("sort", list(gates.GATES))
def test_better_sound_never_passes_less(sort: PhraseForm) -> None:
    rank = {"no": 0, "faint": 1, "yes": 2}
    for log_ratio in (-14.0, -9.0, -5.5, -2.5, 0.0):
        results = [gates.for_us(heard(log_ratio, average), sort) for average in (-3.5, -2.0, -0.5)]
        assert [rank[result] for result in results] == sorted(rank[result] for result in results)


def test_a_danger_or_a_repeated_value_passes_with_less() -> None:
    weak = heard(-4.0, -1.5)
    assert gates.for_us(weak, "bare") == "faint"
    assert gates.for_us(weak, "bare", danger=True) == "yes"
    assert gates.for_us(weak, "bare", agreed=True) == "yes"


def test_what_is_shorter_than_a_word_is_faint_at_best() -> None:
    assert gates.for_us(heard(1.0, -0.1, audio_s=0.82), "phrase", danger=True) == "faint"
    assert gates.for_us(heard(1.0, -0.1, audio_s=0.84), "phrase") == "yes"


def test_typed_words_and_a_recogniser_without_figures() -> None:
    assert gates.for_us(heard(None, None, ear=TYPED), "bare") == "yes"
    assert gates.no_figures(heard(None, None, ear=TYPED)) is None
    assert gates.no_figures(heard(None, None)) is not None
    assert gates.no_figures(heard(-9.0, -3.0)) is None


@pytest.mark.parametrize("silent", [heard(None, None), heard(None, None, ear=TYPED)])
def test_without_figures_the_sound_is_not_judged(silent: Heard) -> None:
    assert gates.badly_heard(silent, ()) is None
    assert gates.meanings_near(silent, 0.0) is None


def test_one_of_several_gates_is_enough_and_two_near_meanings_are_doubted() -> None:
    either = (Gate(0.0, -0.1), Gate(-3.0, -1.0))
    assert gates.badly_heard(heard(-2.0, -0.9), either) is None
    assert "badly heard" in (gates.badly_heard(heard(-4.0, -0.9), either) or "")
    assert gates.meanings_near(heard(-2.0, -0.9), 2.0) is None
    assert "two meanings" in (gates.meanings_near(heard(-2.0, -0.9), 1.9) or "")


def test_one_word_never_passes_the_loose_gate() -> None:
    assert gates.LOOSE not in gates.gates_to_take("harmless", "word", "stop", agreed=False)
    assert gates.LOOSE in gates.gates_to_take("harmless", "phrase", "say again", agreed=False)
    assert gates.LOOSE not in gates.gates_to_take("number", "named", "pressure five", agreed=False)
    assert gates.gates_to_take("danger", "phrase", "no water", True) == (gates.DANGER_TAKEN,)
