"""The bench's bookkeeping: what counts as right, asked and wrong; its sentences are all ours."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.grammar.phrases import grammar
from assistant.lab.benches import talk_decisions
from assistant.lab.benches.talk_decisions import HEADER, SENTENCES, DecisionTrial, judged
from assistant.messages import Alternative, Expected, Report
from assistant.recogniser.base import NBest
from assistant.recogniser.pipeline import RecognitionPipeline

SEVENTY = Report("pressure", 70.0, "psi")
SIXTY = Report("pressure", 60.0, "psi")
PRESSURE = Expected("pressure")


class Says:
    """An ear that always says the same."""

    name = "says"

    def __init__(self, *alternatives: tuple[Report, float], average: float = -0.2) -> None:
        self._opinion = NBest(
            "says",
            tuple(Alternative(m, "pressure seven zero", p) for m, p in alternatives),
            0.0,
            average,
        )

    def prepare(self, grammar) -> None:
        """Nothing to prepare."""

    def hear(self, sound, grammar) -> NBest:
        return self._opinion


@pytest.mark.parametrize(
    ("ear", "meant", "column"),
    [
        (Says((SEVENTY, 0.999)), SEVENTY, "right"),
        (Says((SEVENTY, 0.999)), SIXTY, "wrong"),
        (Says((SEVENTY, 0.9), (SIXTY, 0.1)), SEVENTY, "asked"),
        (Says((SEVENTY, 0.9), (SIXTY, 0.1)), SIXTY, "asked-"),
        (Says((SEVENTY, 0.999), average=-2.0), SEVENTY, "again"),
        (Says((SEVENTY, 0.999), average=-3.0), SEVENTY, "ignored"),
        (Says((SEVENTY, 0.999)), None, "wrong"),
    ],
)
def test_what_came_of_an_utterance_is_named(ear, meant, column) -> None:
    sound = np.zeros(16_000, np.float32)
    made = judged(
        RecognitionPipeline(ear), lambda whole: [whole], [DecisionTrial(sound, PRESSURE, meant)]
    )
    assert made.counts == {column: 1}
    assert HEADER.split()[1:].index(f"{column}%") >= 0
    assert bool(made.wrong) == (column == "wrong")


def test_what_the_detector_misses_counts_as_ignored() -> None:
    trial = DecisionTrial(np.zeros(16_000, np.float32), PRESSURE, SEVENTY)
    assert judged(RecognitionPipeline(Says()), lambda whole: [], [trial]).counts == {"ignored": 1}


def test_all_forty_sentences_are_accepted_words() -> None:
    assert len(SENTENCES) == 40
    assert not [words for words, e in SENTENCES if grammar(e).meaning(words.split()) is None]


def test_no_other_talk_is_one_of_our_sentences() -> None:
    asked = {expected for _, expected in SENTENCES}
    ours = [
        words
        for words in talk_decisions.OTHER_TALK
        for e in asked
        if grammar(e).meaning(words.split()) is not None
    ]
    assert not ours
