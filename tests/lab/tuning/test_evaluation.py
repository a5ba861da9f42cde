"""Evaluation: what is right, sure and wrong, and how far the posterior can be trusted."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.lab.benches import recordings as bench_sounds
from assistant.lab.tuning import evaluation
from assistant.lab.tuning.evaluation import (
    NO_ADAPTER,
    EvaluationSet,
    TrialResult,
    calibration,
    result_row,
)
from assistant.simulator.noise import engine_noise


def result(right: bool, probability: float, log_ratio: float = 0.0) -> TrialResult:
    return TrialResult(right, probability, log_ratio, -0.5)


def test_sure_and_wrong_is_counted_apart() -> None:
    row = result_row("some", [result(True, 0.999), result(False, 0.999), result(True, 0.5),
                        result(True, 0.999, -2.0)])  # fmt: skip
    assert row.split() == ["some", "4", "75.0", "25.0", "25.0"]


def test_calibration_sets_what_is_said_beside_what_is_true() -> None:
    lines = calibration([result(n < 6, 0.85) for n in range(10)])
    assert len(lines) == 1
    assert "10 times, says  85.0 %, is right  60.0 %" in lines[0]


def test_a_table_names_both() -> None:
    one_set = EvaluationSet("digits anna", None, 1)
    results = {
        (NO_ADAPTER, one_set): [result(True, 0.5)],
        (Path("x.npz"), one_set): [result(True, 0.999)],
    }
    lines = list(evaluation.result_table([one_set], results))
    assert any("digits anna, clean, plain" in line for line in lines)
    assert any(line.startswith("calibration, x") for line in lines)


@pytest.mark.speech
@pytest.mark.ear
def test_a_recogniser_is_evaluated_on_people(recordings: Path) -> None:
    person = bench_sounds.speakers(recordings)[0]
    one_set = EvaluationSet(f"digits {person}", None, 3)
    results = evaluation.evaluate(
        [one_set], [NO_ADAPTER], evaluation.SoundFolders(recordings, None, engine_noise), 0
    )
    assert len(results[NO_ADAPTER, one_set]) == 3
    assert all(0 <= one.probability <= 1 for one in results[NO_ADAPTER, one_set])
