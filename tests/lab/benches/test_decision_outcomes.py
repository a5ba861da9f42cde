"""What counts as right, asked and wrong."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.lab.benches.decision_outcomes import DECISIONS, decide_trials
from assistant.lab.benches.talk_trials import DecisionTrial
from assistant.messages import Alternative, Expected, Report
from assistant.recogniser.base import Grammar, NBest, Sound
from assistant.recogniser.pipeline import RecognitionPipeline

SEVENTY = Report("pressure", 70.0, "psi")
SIXTY = Report("pressure", 60.0, "psi")
PRESSURE = Expected("pressure")


class Says:
    """A recogniser that always hears the same."""

    name = "says"

    def __init__(self, *alternatives: tuple[Report, float], average: float = -0.2) -> None:
        self._n_best = NBest(
            "says",
            tuple(Alternative(m, "pressure seven zero", p) for m, p in alternatives),
            0.0,
            average,
        )

    def prepare(self, grammar: Grammar) -> None:
        """Nothing to prepare."""

    def hear(self, sound: Sound, grammar: Grammar) -> NBest:
        return self._n_best


@pytest.mark.parametrize(
    ("recogniser", "meant", "column"),
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
def test_what_came_of_an_utterance_is_named(
    recogniser: Says, meant: Report | None, column: str
) -> None:
    sound = np.zeros(16_000, np.float32)
    outcomes = decide_trials(
        RecognitionPipeline(recogniser),
        lambda whole: [whole],
        [DecisionTrial(sound, PRESSURE, meant)],
    )
    assert outcomes.counts == {column: 1}
    assert DECISIONS.header().split()[1:].index(f"{column}%") >= 0
    assert bool(outcomes.wrong) == (column == "wrong")


def test_what_the_detector_misses_counts_as_ignored() -> None:
    trial = DecisionTrial(np.zeros(16_000, np.float32), PRESSURE, SEVENTY)
    assert decide_trials(RecognitionPipeline(Says()), lambda whole: [], [trial]).counts == {
        "ignored": 1
    }
