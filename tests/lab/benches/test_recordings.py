"""Mixing at a given ratio, and the counting of right answers."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.lab.benches.drinks_grammar import Orders, as_meaning, slots
from assistant.lab.benches.hear_people import HearingTally, Trial, tally_trials
from assistant.lab.benches.recordings import mixed_by_peak
from assistant.messages import SPEECH_RATE_HZ, Alternative, Answer, Meaning
from assistant.recogniser.base import Grammar, NBest, Sound
from assistant.recogniser.snr import mix


def test_mixing_by_level_counts_only_where_there_is_speech() -> None:
    rng = np.random.default_rng(1)
    speech = np.concatenate(
        [np.zeros(SPEECH_RATE_HZ), 0.1 * np.sin(np.arange(SPEECH_RATE_HZ) * 0.3)]
    )
    noise = rng.standard_normal(2 * SPEECH_RATE_HZ).astype(np.float32)
    both = mix(speech.astype(np.float32), noise, 10)
    rms = np.sqrt(np.mean(both[:SPEECH_RATE_HZ].astype(float) ** 2))
    assert 20 * np.log10(0.1 / np.sqrt(2) / rms) == pytest.approx(10, abs=0.2)


def test_mixing_as_the_benchmark_does() -> None:
    speech = np.zeros(3 * 2048, np.float32)
    speech[2048:4096] = 0.2
    noise = np.full(10 * 2048, 0.05, np.float32)
    both = mixed_by_peak(speech, noise, 6, np.random.default_rng(1))
    assert np.abs(both).max() == pytest.approx(0.5)
    under, top = float(both[0]), float(both[3000])
    assert 20 * np.log10((top - under) / under) == pytest.approx(6, abs=0.01)


class Parrot:
    """Always of the same opinion."""

    name = "parrot"

    def __init__(self, opinion: NBest) -> None:
        self._opinion = opinion

    def prepare(self, grammar: Grammar) -> None:
        """Nothing to do."""

    def hear(self, sound: Sound, grammar: Grammar) -> NBest:
        return self._opinion


@pytest.mark.parametrize(
    ("probability", "log_ratio", "meant", "right", "sure_right", "sure_wrong"),
    [
        (0.999, -0.1, "yes", 1, 1, 0),
        (0.999, -0.1, "no", 0, 0, 1),
        (0.999, -3.0, "no", 0, 0, 0),
        (0.6, -0.1, "yes", 1, 0, 0),
    ],
)
def test_counting(
    probability: float, log_ratio: float, meant: str, right: int, sure_right: int, sure_wrong: int
) -> None:
    heard: Meaning = Answer("yes")
    opinion = NBest("x", (Alternative(heard, "correct", probability),), log_ratio, -0.2)
    answer = Answer("yes") if meant == "yes" else Answer("no")
    made = tally_trials(Parrot(opinion), Orders(), [Trial(np.zeros(10, np.float32), answer)])
    assert (made.right, made.sure_right, made.sure_wrong) == (right, sure_right, sure_wrong)


def test_a_row_of_the_table() -> None:
    row = HearingTally(200, 150, 100, 1, (0.1, 0.2, 0.3)).row("6 dB").split()
    assert row == ["6", "dB", "200", "75.0", "50.0", "0.5", "0.20", "0.29"]


def test_order_slots() -> None:
    grammar = Orders()
    words = [
        "may",
        "i",
        "have",
        "an",
        "eight",
        "ounce",
        "medium",
        "roast",
        "iced",
        "coffee",
        "with",
        "sugar",
        "and",
        "a",
        "bit",
        "of",
        "cream",
    ]
    assert grammar.meaning(words) == as_meaning(
        {
            "size": "eight ounce",
            "roast": "medium roast",
            "coffeeDrink": "iced coffee",
            "milkAmount": "a bit of cream",
            "sugarAmount": "sugar",
        }
    )
    assert slots(["a", "medium", "roast", "coffee"]) == {
        "roast": "medium roast",
        "coffeeDrink": "coffee",
    }
    assert grammar.meaning(["a", "roast", "coffee"]) is None
